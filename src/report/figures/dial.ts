import { tidy } from '../../words/wording.js';
import type { DialShown } from '../data.js';
import { escaped } from '../markup.js';
import { colour } from '../palette.js';
import { FONT, framed } from './draw.js';

const SIZE = 168;
const MIDDLE = SIZE / 2;
const KNOB = 40;
const TICK = 50;
const LABEL = 57;
/** A knob turns from lower left to lower right. */
const [FIRST, TURN] = [-135, 270];
/** As many positions as can be named around a knob without touching. */
const MOST_NAMED = 12;

/** A dial as a knob with its scale: every position as a line, the chosen one pointed at and written in the middle. */
export function dialFigure(dial: DialShown, id: string): string {
  const { positions, chosen, name } = dial;
  const last = positions.length - 1;
  const named = namedPlaces(last, chosen);
  const marks = positions.map((position, i) => {
    const angle = FIRST + (last > 0 ? (i / last) * TURN : TURN / 2);
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
  const angle = FIRST + (last > 0 && chosen !== null ? (chosen / last) * TURN : TURN / 2);
  const pointer =
    chosen === null
      ? ''
      : `<path d="${ray(angle, KNOB - 15, KNOB - 4)}" stroke="${colour('recommended')}" stroke-width="5" stroke-linecap="round"/>`;
  const svg =
    `<svg viewBox="0 0 ${SIZE} ${SIZE}" width="${SIZE}" height="${SIZE}" font-family="system-ui, sans-serif" font-size="${FONT}" text-anchor="middle" fill="${colour('ink')}">` +
    `<circle cx="${MIDDLE}" cy="${MIDDLE}" r="${KNOB}" fill="${colour('card')}" stroke="${colour('ink')}" stroke-width="1.5"/>` +
    marks.join('') +
    pointer +
    `<text x="${MIDDLE}" y="${MIDDLE}" dy="0.36em" font-size="${value === null ? FONT : 20}" font-weight="bold">${value ?? 'between'}</text>` +
    `<text x="${MIDDLE}" y="${SIZE - 8}" font-size="${FONT + 2}" font-weight="bold">${escaped(name)}</text></svg>`;
  const first = tidy(positions[0]!);
  const end = tidy(positions[last]!);
  return framed(
    {
      id,
      title: value === null ? `${name}: between two positions` : `${name} ${value}`,
      description: `${positions.length === 1 ? 'One position' : `${positions.length} positions from ${first} to ${end}`}.`,
    },
    svg,
  );
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
  const round = (v: number) => Math.round(v * 10) / 10;
  return [round(MIDDLE + radius * Math.sin(turned)), round(MIDDLE - radius * Math.cos(turned))];
}
