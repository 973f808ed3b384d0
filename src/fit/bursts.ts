import { median } from './clock.js';

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

/**
 * Gathers the photos of one burst, where nearly all bunches hold equally many, equally far apart. A camera that something keeps
 * firing also makes bunches, but of any length.
 * @param photos rising, seconds
 * @param quantum of the times' rounding, seconds
 * @param known what the owner says of the camera's bursts
 */
export function burstsIn(photos: readonly number[], quantum: number, known: Burst | null): Bursts {
  const burst = known ?? burstSeen(photos, quantum);
  if (burst === null || burst.photos < 2) return { times: [...photos], burst: null };
  const times: number[] = [];
  // Of a burst some photos may be missing, so that it ends by the clock.
  const lasts = (burst.photos - 1) * burst.interval + quantum / 2 + burst.interval / 2;
  for (const time of photos) if (!(time - times.at(-1)! <= lasts)) times.push(time);
  return { times, burst };
}

function burstSeen(photos: readonly number[], quantum: number): Burst | null {
  const gaps = photos.slice(1).map((time, i) => time - photos[i]!);
  const short = gaps.filter((gap) => gap <= LONGEST_INTERVAL);
  if (short.length === 0) return null;
  const interval = median(short);
  // Of a burst one photo may be missing.
  const within = gaps.filter((gap) => gap <= 2 * interval + quantum / 2);
  const regular = within.filter((gap) => Math.abs(gap - interval) <= quantum / 2 + 0.15 * interval);
  if (regular.length < REGULAR * within.length) return null;
  const sizes: number[] = [1];
  for (const gap of gaps) {
    if (gap <= 2 * interval + quantum / 2) sizes[sizes.length - 1]!++;
    else sizes.push(1);
  }
  const counts = new Map<number, number>();
  for (const size of sizes) counts.set(size, (counts.get(size) ?? 0) + 1);
  const [size, bunches] = [...counts].reduce((a, b) => (b[1] > a[1] ? b : a));
  if (size < 2 || bunches < FEWEST_BUNCHES || bunches < ALIKE * sizes.length) return null;
  return { photos: size, interval };
}
