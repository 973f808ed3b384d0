import type { Stretch } from '../../../../score/labels.js';

/** What part of the clip is drawn, and over how many pixels. */
export interface Span {
  /** Seconds. */
  from: number;
  to: number;
  /** Pixels of the page. */
  width: number;
}

/** Rows of the strip from the top, in pixels of the page. */
export const ROWS = {
  shades: { y: 0, height: 44 },
  visits: { y: 46, height: 18 },
  ignored: { y: 66, height: 7 },
  reviewed: { y: 75, height: 4 },
  triggers: { y: 81, height: 14 },
  clock: { y: 96, height: 16 },
} as const;
export const HEIGHT = 113;

export function xOf(time: number, { from, to, width }: Span): number {
  return ((time - from) / (to - from)) * width;
}

export function timeOf(x: number, { from, to, width }: Span): number {
  return from + (x / width) * (to - from);
}

/**
 * The window around a moment: of so many seconds, within the clip.
 * @param seconds the clip's length
 */
export function windowAround(time: number, wide: number, seconds: number): { from: number; to: number } {
  const length = Math.min(wide, seconds);
  const from = Math.min(seconds - length, Math.max(0, time - length / 2));
  return { from, to: from + length };
}

const TICKS = [
  0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14_400, 21_600, 43_200,
];
/** Room that one clock time takes, in pixels. */
const TICK_ROOM = 64;

/** Moments that are marked with their time, and seconds between two of them. */
export function ticksOf({ from, to, width }: Span): { every: number; times: number[] } {
  const every = TICKS.find((tick) => (tick / (to - from)) * width >= TICK_ROOM) ?? TICKS.at(-1)!;
  const first = Math.ceil(from / every - 1e-9);
  const count = Math.max(0, Math.floor(to / every + 1e-9) - first + 1);
  return { every, times: Array.from({ length: count }, (_, i) => (first + i) * every) };
}

/** Stretches in rows of one band, each in the first where it overlaps none before it; at most `most` rows. */
export function lanesFor(stretches: readonly Stretch[], most: number): { lanes: number[]; count: number } {
  const order = stretches.map((_, i) => i).sort((a, b) => stretches[a]!.start - stretches[b]!.start);
  const free: number[] = [];
  const lanes = new Array<number>(stretches.length).fill(0);
  for (const i of order) {
    const { start, end } = stretches[i]!;
    const found = free.findIndex((from) => start > from);
    const lane = found >= 0 ? found : free.length < most ? free.length : most - 1;
    free[lane] = Math.max(free[lane] ?? Number.NEGATIVE_INFINITY, end);
    lanes[i] = lane;
  }
  return { lanes, count: Math.max(1, free.length) };
}

/** Pixels by which what is equally near is told apart. */
const SIDE = 0.01;

/** One end of one stretch. */
export interface Edge {
  at: number;
  edge: 'start' | 'end';
}

/**
 * The end of a stretch that a pointer is on: the nearest within `reach` pixels; of two equally near that of the chosen
 * stretch, so that ends which lie on one another can be told apart.
 */
export function edgeAt(
  x: number,
  stretches: readonly Stretch[],
  span: Span,
  reach: number,
  chosen: number | null,
): Edge | null {
  let best: (Edge & { away: number }) | null = null;
  for (const [at, stretch] of stretches.entries()) {
    for (const edge of ['start', 'end'] as const) {
      const place = xOf(stretch[edge], span);
      // The two ends of a stretch too short to be seen are told apart by the side that the pointer is on.
      const outside = edge === 'start' ? x < place : x > place;
      const away = Math.abs(x - place) - (outside ? SIDE : 0);
      const own = at === chosen && best !== null && best.at !== chosen;
      const nearer = best === null || away < best.away || (own && away < best.away + 2 * SIDE);
      if (away <= reach && nearer) best = { at, edge, away };
    }
  }
  return best && { at: best.at, edge: best.edge };
}
