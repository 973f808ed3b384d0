import { tidy } from '../../words/wording.js';
import type { DialShown } from '../data.js';
import { escaped } from '../markup.js';
import { colour } from '../palette.js';
import { type Caption, FONT, framed } from './draw.js';

const SIZE = 168;
const MIDDLE = SIZE / 2;
const KNOB = 40;
const TICK = 50;
const LABEL = 57;
/** A knob turns from lower left to lower right. */
const [FIRST, TURN] = [-135, 270];
/** As many positions as can be named around a knob without touching. */
const MOST_NAMED = 12;
/** Width of a small figure, and of its text times the number of characters. */
const [SMALL, WIDEST] = [118, 100];

/** A dial as a knob with its scale: every position as a line, the chosen one pointed at and written in the middle. */
export function dialFigure(dial: DialShown, id: string): string {
  const { positions, chosen, name } = dial;
  const last = positions.length - 1;
  const named = namedPlaces(last, chosen);
  const marks = positions.map((position, i) => {
    const angle = angleAt(dial, i);
    const is = i === chosen;
    const line = `<path d="${ray(angle, TICK - (is ? 4 : 2), TICK + (is ? 6 : 3))}" stroke="${colour(is ? 'ink' : 'faint')}" stroke-width="${is ? 3 : positions.length > 60 ? 0.6 : 1.2}"/>`;
    if (!named.has(i)) return line;
    const sideways = Math.sin((angle * Math.PI) / 180);
    const above = Math.abs(sideways) < 0.2;
    const [x, y] = around(angle, above ? LABEL + 6 : LABEL);
    const weight = is ? ' font-weight="bold"' : '';
    const anchor = above ? 'middle' : sideways > 0 ? 'start' : 'end';
    return `${line}<text x="${x}" y="${y}" dy="0.35em" text-anchor="${anchor}" fill="${colour(is ? 'ink' : 'faint')}"${weight}>${tidy(position)}</text>`;
  });
  const value = chosen === null ? null : tidy(positions[chosen]!);
  const svg =
    `<svg viewBox="0 0 ${SIZE} ${SIZE}" width="${SIZE}" height="${SIZE}" font-family="system-ui, sans-serif" font-size="${FONT}" text-anchor="middle" fill="${colour('ink')}">` +
    knob() +
    marks.join('') +
    pointer(dial) +
    `<text x="${MIDDLE}" y="${MIDDLE}" dy="0.36em" font-size="${value === null ? FONT : 20}" font-weight="bold">${value ?? 'between'}</text>` +
    `<text x="${MIDDLE}" y="${SIZE - 8}" font-size="${FONT + 2}" font-weight="bold">${escaped(name)}</text></svg>`;
  return framed(caption(dial, id), svg);
}

/** The same knob where there is little room: its positions unnamed, the chosen one written as large as fits. */
export function smallDialFigure(dial: DialShown, id: string): string {
  const { positions, chosen } = dial;
  const marks = positions.map((_, i) => {
    const is = i === chosen;
    const width = is ? 5 : positions.length > 30 ? 1 : 2.4;
    return `<path d="${ray(angleAt(dial, i), TICK - 4, TICK + (is ? 7 : 3))}" stroke="${colour(is ? 'ink' : 'faint')}" stroke-width="${width}"/>`;
  });
  const value = chosen === null ? 'between' : tidy(positions[chosen]!);
  const font = rounded(Math.min(30, WIDEST / value.length));
  const svg =
    `<svg viewBox="${MIDDLE - SMALL / 2} ${MIDDLE - SMALL / 2} ${SMALL} ${SMALL - 12}" width="${SMALL}" height="${SMALL - 12}" font-family="system-ui, sans-serif" text-anchor="middle" fill="${colour('ink')}">` +
    knob() +
    marks.join('') +
    pointer(dial) +
    `<text x="${MIDDLE}" y="${MIDDLE}" dy="0.36em" font-size="${font}" font-weight="bold">${value}</text></svg>`;
  return framed(caption(dial, id), svg);
}

function caption({ name, positions, chosen }: DialShown, id: string): Caption {
  const value = chosen === null ? null : tidy(positions[chosen]!);
  const ends = `from ${tidy(positions[0]!)} to ${tidy(positions.at(-1)!)}`;
  return {
    id,
    title: value === null ? `${name}: between two positions` : `${name} ${value}`,
    description: `${positions.length === 1 ? 'One position' : `${positions.length} positions ${ends}`}.`,
  };
}

function knob(): string {
  return `<circle cx="${MIDDLE}" cy="${MIDDLE}" r="${KNOB}" fill="${colour('card')}" stroke="${colour('ink')}" stroke-width="1.5"/>`;
}

function pointer(dial: DialShown): string {
  if (dial.chosen === null) return '';
  const d = ray(angleAt(dial, dial.chosen), KNOB - 15, KNOB - 4);
  return `<path d="${d}" stroke="${colour('recommended')}" stroke-width="5" stroke-linecap="round"/>`;
}

/** Degrees from the top, clockwise. */
function angleAt({ positions }: DialShown, place: number): number {
  const last = positions.length - 1;
  return FIRST + (last > 0 ? (place / last) * TURN : TURN / 2);
}

/** The places to write out: all where there is room, else both ends, the chosen one and some between, clear of it. */
function namedPlaces(last: number, chosen: number | null): Set<number> {
  if (last < MOST_NAMED) return new Set(Array.from({ length: last + 1 }, (_, i) => i));
  const step = Math.ceil(last / 6);
  const clear = (i: number) => chosen === null || Math.abs(i - chosen) > step / 2;
  const between = Array.from({ length: 6 }, (_, i) => i * step).filter((i) => last - i > step / 2);
  return new Set([...between, last].filter(clear).concat(chosen === null ? [] : [chosen]));
}

function ray(angle: number, from: number, to: number): string {
  return `M${around(angle, from)}L${around(angle, to)}`;
}

/** A place on a circle around the knob; degrees from the top, clockwise. */
function around(angle: number, radius: number): [number, number] {
  const turned = (angle * Math.PI) / 180;
  return [rounded(MIDDLE + radius * Math.sin(turned)), rounded(MIDDLE - radius * Math.cos(turned))];
}

function rounded(v: number): number {
  return Math.round(v * 10) / 10;
}
