import type { FrontPoint } from '../../worker/front.js';

export const FRONT_WIDTH = 360;
export const FRONT_HEIGHT = 250;
const [LEFT, RIGHT, TOP, BOTTOM] = [42, 14, 12, 40];
const TICKS = [0, 1, 3, 10, 30, 100, 300, 1000, 3000, 10_000, 30_000];

/** A place in the figure, in its own pixels. */
export interface At {
  x: number;
  y: number;
}

/** How false triggers an hour and shares of visits are laid out: the first on a scale that has room for none and for many. */
export interface FrontLayout {
  x: (nothingPerHour: number) => number;
  y: (recall: number) => number;
  /** False triggers an hour that are named below. */
  ticks: { at: number; text: string }[];
}

/** @param most false triggers an hour of all that is drawn */
export function frontLayout(most: number): FrontLayout {
  const end = 1.15 * Math.max(1, most);
  const x = (nothing: number) =>
    rounded(LEFT + (Math.log1p(nothing) / Math.log1p(end)) * (FRONT_WIDTH - LEFT - RIGHT));
  const y = (recall: number) => rounded(TOP + (1 - recall) * (FRONT_HEIGHT - TOP - BOTTOM));
  const ticks = TICKS.filter((tick) => tick <= end).map((tick) => ({
    at: x(tick),
    text: tick >= 1000 ? `${tick / 1000}k` : String(tick),
  }));
  return { x, y, ticks };
}

/** What a score comes to in the figure; null where nothing can be told. */
export function pointAt({
  recall,
  falsePerHour,
}: FrontPoint['score']): { recall: number; nothing: number } | null {
  return recall && falsePerHour ? { recall: recall.value, nothing: falsePerHour.value } : null;
}

/** The nearest of some places to one. */
export function nearestTo(places: readonly At[], { x, y }: At): number {
  const far = ({ x: px, y: py }: At) => (px - x) ** 2 + (py - y) ** 2;
  return places.reduce((best, place, i) => (far(place) < far(places[best]!) ? i : best), 0);
}

function rounded(v: number): number {
  return Math.round(10 * v) / 10;
}
