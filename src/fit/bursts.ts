import { median } from '../weather/noise-line.js';

/** Photos that belong to one trigger: how many, and seconds between them. */
export interface Burst {
  photos: number;
  interval: number;
}

/** Photos as triggers. */
export interface Bursts {
  /** The first photo of each. */
  times: number[];
  /** Null: each photo is a trigger of its own. */
  burst: Burst | null;
}

/** Seconds; photos of one burst follow closer. */
const LONGEST_INTERVAL = 3;
/** Share of bunches that must hold equally many photos, for a busy camera fires in bunches too. */
const ALIKE = 0.7;
const FEWEST_BUNCHES = 4;
/** Share of gaps within bunches that must be the usual one. */
const REGULAR = 0.8;
/** Of the interval: so much a gap may differ from the usual one beside its rounding. */
const REGULAR_WITHIN = 0.15;

/**
 * Gathers the photos of one burst, where nearly all bunches hold equally many, equally far apart. A camera that something keeps
 * firing also makes bunches, but of any length.
 * @param photos rising, seconds; where they are rounded several may be of one moment
 * @param quantum of the times' rounding, seconds
 * @param known what the owner says of the camera's bursts
 */
export function burstsIn(photos: readonly number[], quantum: number, known: Burst | null): Bursts {
  const moments = [...new Set(photos)];
  // Times that nothing rounds and that are the same are of one photo, copied.
  const burst = known ?? burstSeen(quantum > 0 ? photos : moments, quantum);
  if (burst === null || burst.photos < 2) return { times: moments, burst: null };
  const times: number[] = [];
  // Of a burst some photos may be missing, so that it ends by the clock.
  const lasts = (burst.photos - 1) * burst.interval + Math.max(quantum, burst.interval / 2);
  for (const time of moments) if (!(time - times.at(-1)! <= lasts)) times.push(time);
  return { times, burst };
}

function burstSeen(photos: readonly number[], quantum: number): Burst | null {
  const gaps = photos.slice(1).map((time, i) => time - photos[i]!);
  const short = gaps.filter((gap) => gap <= LONGEST_INTERVAL);
  if (short.length === 0) return null;
  const usual = median(short);
  // Of a burst one photo may be missing.
  const farthest = 2 * Math.max(usual, quantum) + quantum / 2;
  const bunches: number[][] = [[photos[0]!]];
  gaps.forEach((gap, i) => {
    if (gap <= farthest) bunches.at(-1)!.push(photos[i + 1]!);
    else bunches.push([photos[i + 1]!]);
  });
  const counts = new Map<number, number>();
  for (const { length } of bunches) counts.set(length, (counts.get(length) ?? 0) + 1);
  const [size, alike] = [...counts].reduce((a, b) => (b[1] > a[1] ? b : a));
  if (size < 2 || alike < FEWEST_BUNCHES || alike < ALIKE * bunches.length) return null;
  const interval = quantum > 0 ? meanInterval(bunches.filter(({ length }) => length === size)) : usual;
  const within = gaps.filter((gap) => gap <= farthest);
  const regular = within.filter((gap) => Math.abs(gap - interval) <= quantum + REGULAR_WITHIN * interval);
  // Nobody can tell photos that are all of one moment from copies.
  return interval > 0 && regular.length >= REGULAR * within.length ? { photos: size, interval } : null;
}

/** Rounded times tell the interval only by many bursts, for each gap is off by as much as the rounding. */
function meanInterval(bunches: readonly (readonly number[])[]): number {
  const each = bunches.map((photos) => (photos.at(-1)! - photos[0]!) / (photos.length - 1));
  return each.reduce((sum, one) => sum + one, 0) / each.length;
}
