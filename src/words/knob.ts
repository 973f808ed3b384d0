import type { DialShown } from './dials-shown.js';
import { tidy } from './wording.js';

/**
 * A dial as a knob with its scale, in the units of a square drawing of `KNOB_SIZE`: the same for the report, the card and the
 * page. Angles in degrees from the top, clockwise.
 */
export const KNOB_SIZE = 168;
export const KNOB_MIDDLE = KNOB_SIZE / 2;
export const KNOB_RADIUS = 40;
/** Width of a small knob, its positions unnamed. */
export const SMALL_KNOB = 118;
const TICK = 50;
const LABEL = 57;
/** A knob turns from lower left to lower right. */
const [FIRST, TURN] = [-135, 270];
/** As many positions as can be named around a knob without touching. */
const MOST_NAMED = 12;
/** Width of the text in a small knob times the number of its characters, and the tallest. */
const [WIDEST, TALLEST] = [100, 30];

/** One position's line on the scale. */
export interface KnobMark {
  /** Path data. */
  d: string;
  width: number;
  chosen: boolean;
  /** The position written beside its line; null where there is no room. */
  name: { x: number; y: number; anchor: 'start' | 'middle' | 'end'; text: string } | null;
}

/** Where a dial can stand and where it stands: all that turning it needs. */
export type Turning = Pick<DialShown, 'positions' | 'chosen'>;

/** Every position as a line, as many named as fit. */
export function knobMarks(dial: Turning): KnobMark[] {
  const { positions, chosen } = dial;
  const named = namedPlaces(positions.length - 1, chosen);
  return positions.map((position, i) => {
    const angle = knobAngle(positions.length, i);
    const is = i === chosen;
    return {
      d: ray(angle, TICK - (is ? 4 : 2), TICK + (is ? 6 : 3)),
      width: is ? 3 : positions.length > 60 ? 0.6 : 1.2,
      chosen: is,
      name: named.has(i) ? nameAt(angle, tidy(position)) : null,
    };
  });
}

/** The same where there is little room. */
export function smallKnobMarks({ positions, chosen }: Turning): KnobMark[] {
  return positions.map((_, i) => {
    const is = i === chosen;
    const d = ray(knobAngle(positions.length, i), TICK - 4, TICK + (is ? 7 : 3));
    return { d, width: is ? 5 : positions.length > 30 ? 1 : 2.4, chosen: is, name: null };
  });
}

/** The pointer's path data; null between two positions. */
export function knobPointer({ positions, chosen }: Turning): string | null {
  if (chosen === null) return null;
  return ray(knobAngle(positions.length, chosen), KNOB_RADIUS - 15, KNOB_RADIUS - 4);
}

/** What stands in the middle, and how tall it may be in a small knob. */
export function knobValue({ positions, chosen }: Turning): { text: string; small: number } {
  const text = chosen === null ? 'between' : tidy(positions[chosen]!);
  return { text, small: rounded(Math.min(TALLEST, WIDEST / text.length)) };
}

/** Where one of so many positions lies. */
export function knobAngle(count: number, place: number): number {
  return FIRST + (count > 1 ? (place / (count - 1)) * TURN : TURN / 2);
}

/** The place among so many positions that lies nearest to an angle; in the gap at the bottom, the nearer end. */
export function placeAtAngle(count: number, angle: number): number {
  const turned = ((((angle + 180) % 360) + 360) % 360) - 180;
  const share = Math.min(1, Math.max(0, (turned - FIRST) / TURN));
  return Math.round(share * (count - 1));
}

/** The places to write out: all where there is room, else both ends, the chosen one and some between, clear of it. */
function namedPlaces(last: number, chosen: number | null): Set<number> {
  if (last < MOST_NAMED) return new Set(Array.from({ length: last + 1 }, (_, i) => i));
  const step = Math.ceil(last / 6);
  const clear = (i: number) => chosen === null || Math.abs(i - chosen) > step / 2;
  const between = Array.from({ length: 6 }, (_, i) => i * step).filter((i) => last - i > step / 2);
  return new Set([...between, last].filter(clear).concat(chosen === null ? [] : [chosen]));
}

function nameAt(angle: number, text: string): KnobMark['name'] {
  const sideways = Math.sin((angle * Math.PI) / 180);
  const above = Math.abs(sideways) < 0.2;
  const [x, y] = around(angle, above ? LABEL + 6 : LABEL);
  return { x, y, anchor: above ? 'middle' : sideways > 0 ? 'start' : 'end', text };
}

function ray(angle: number, from: number, to: number): string {
  return `M${around(angle, from)}L${around(angle, to)}`;
}

/** A place on a circle around the knob. */
function around(angle: number, radius: number): [number, number] {
  const turned = (angle * Math.PI) / 180;
  return [rounded(KNOB_MIDDLE + radius * Math.sin(turned)), rounded(KNOB_MIDDLE - radius * Math.cos(turned))];
}

function rounded(v: number): number {
  return Math.round(v * 10) / 10;
}
