import type { Canvas } from './canvas.js';
import type { Dice } from './dice.js';
import { groundRow, type View } from './view.js';

/** Metres long, steps a second, metres a step, and what it looks like. */
const visitors = {
  'wood mouse': { long: 0.09, high: 0.45, hops: 3, tail: 0.9 },
  'house sparrow': { long: 0.14, high: 0.75, hops: 2.2, tail: 0.4 },
  blackbird: { long: 0.25, high: 0.6, hops: 1.6, tail: 0.5 },
  starling: { long: 0.21, high: 0.65, hops: 2.6, tail: 0.3 },
  moorhen: { long: 0.32, high: 0.75, hops: 1.4, tail: 0.2 },
  hedgehog: { long: 0.24, high: 0.55, hops: 1, tail: 0 },
};

/** An animal that comes, stops here and there and goes. */
export interface Visit {
  name: keyof typeof visitors;
  /** Seconds from the clip's start. */
  start: number;
  end: number;
  /** Stops on its way, metres across and away, with seconds; it moves straight between them. */
  way: { at: number; across: number; away: number }[];
  light: number;
  /** Left and right ends of what it ever covers, top and bottom: fractions of the frame. */
  box: [number, number, number, number];
}

export function visitsOf(view: View, seconds: number, dice: Dice): Visit[] {
  const n = dice.whole(5, 8);
  const slot = seconds / n;
  return Array.from({ length: n }, (_, i) => {
    const start = i * slot + dice.within(0.15, 0.4) * slot;
    const lasts = Math.min(dice.within(3, 8), 0.5 * slot);
    return visit(view, start, start + lasts, dice.of(`visit ${i}`));
  });
}

function visit(view: View, start: number, end: number, dice: Dice): Visit {
  const name = dice.one(Object.keys(visitors) as Visit['name'][]);
  const { long } = visitors[name];
  const near = Math.max(0.8, (view.focal * view.tall) / (view.height * 0.94 - view.horizon));
  const away = Math.max(near, view.subject * dice.within(0.8, 1.3));
  const half = ((view.width / 2) * away) / view.focal;
  const side = dice.happens(0.5) ? 1 : -1;
  const stops = dice.whole(2, 5);
  const way = [{ at: start, across: side * (half + long / 2), away }];
  let across = side * half;
  for (let k = 1; k <= stops; k++) {
    across -= (side * 2 * half * dice.within(0.5, 1.5)) / (stops + 1);
    const arrives = start + ((end - start) * (k - 0.4)) / (stops + 1);
    const leaves = start + ((end - start) * k) / (stops + 1);
    const there = { across, away: away * dice.within(0.92, 1.1) };
    way.push({ at: arrives, ...there }, { at: leaves, ...there });
  }
  way.push({ at: end, across: -side * (half + long / 2), away });
  const light = dice.ratio(0.02, 0.3);
  const boxes = way.map((p) => placeOf(view, p.across, p.away, long));
  const left = Math.max(0, Math.min(...boxes.map((b) => b.x - b.long)) / view.width);
  const right = Math.min(1, Math.max(...boxes.map((b) => b.x + b.long)) / view.width);
  const top = Math.max(0, Math.min(...boxes.map((b) => b.y - 1.4 * b.long)) / view.height);
  const bottom = Math.min(1, Math.max(...boxes.map((b) => b.y + 2)) / view.height);
  return { name, start, end, way, light, box: [left, top, right - left, bottom - top] };
}

function placeOf(view: View, across: number, away: number, long: number) {
  const scale = view.focal / away;
  return { x: view.width / 2 + across * scale, y: groundRow(view, away), long: long * scale };
}

/** How far away it is now, metres; null while it is not there. */
export function whereNow(visit: Visit, time: number): { across: number; away: number; goes: number } | null {
  const next = visit.way.findIndex((p) => p.at > time);
  if (next < 1) return null;
  const [a, b] = [visit.way[next - 1]!, visit.way[next]!];
  const t = (time - a.at) / (b.at - a.at);
  return {
    across: a.across + t * (b.across - a.across),
    away: a.away + t * (b.away - a.away),
    goes: Math.sign(b.across - a.across),
  };
}

export function drawVisit(canvas: Canvas, view: View, visit: Visit, time: number): void {
  const now = whereNow(visit, time);
  if (!now) return;
  const { long: metres, high, hops, tail } = visitors[visit.name];
  const { x, y, long } = placeOf(view, now.across, now.away, metres);
  const step = Math.abs(Math.sin(Math.PI * hops * (time - visit.start)));
  const lift = now.goes === 0 ? 0 : 0.18 * long * step;
  // Standing it pecks, or looks about.
  const nod = now.goes === 0 ? 0.25 * Math.sin(2.1 * Math.PI * (time - visit.start)) : 0;
  const way = now.goes === 0 ? Math.sign(visit.way.at(-1)!.across) : now.goes;
  const tall = long * high;
  canvas.blob(x, y, long * 0.5, long * 0.08, 0, 0.02, 0.5);
  const middle = y - tall * 0.5 - lift;
  if (tail > 0)
    canvas.stroke(
      x - way * long * 0.3,
      middle,
      x - way * long * (0.4 + 0.5 * tail),
      middle + tall * 0.1,
      long * 0.1,
      long * 0.04,
      visit.light * 0.7,
    );
  canvas.blob(x, middle, long * 0.4, tall * 0.36, way * -0.25, visit.light);
  canvas.blob(x - way * long * 0.05, middle + tall * 0.14, long * 0.28, tall * 0.2, 0, visit.light * 1.6);
  canvas.blob(
    x + way * long * (0.42 + 0.05 * nod),
    middle - tall * (0.3 - nod),
    long * 0.15,
    long * 0.13,
    0,
    visit.light * 0.85,
  );
}
