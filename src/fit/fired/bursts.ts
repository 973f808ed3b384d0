import { median } from '../../weather/sensor/noise-line.js';

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
/** Of a gap within a burst, or the rounding where that is more: so much longer is a gap that cannot be one of them. */
const CLEARLY_LONGER = 0.4;
/** How likely it may be that runs hold whole bursts by chance. */
const BY_CHANCE = 0.003;
/** Of what times are rounded to: by less than the whole of it the length of a burst is off. */
const ROUNDED_BY = 0.9;
/** Of the interval, where nothing is rounded: so much later the last photo of a burst may come. */
const LATE = 0.3;

/**
 * Gathers the photos of one burst, where nearly all bunches hold equally many, equally far apart. A camera that something keeps
 * firing also makes bunches, but of any length.
 * @param photos rising, seconds; where they are rounded several may be of one moment
 * @param quantum of the times' rounding, seconds
 * @param known what the camera's description says of its bursts; what the photos show goes before it
 * @param each photos a trigger, by the owner, which goes before all else; left out: as seen
 */
export function burstsIn(
  photos: readonly number[],
  quantum: number,
  known: Burst | null,
  each?: number,
): Bursts {
  const moments = [...new Set(photos)];
  // Times that nothing rounds and that are the same are of one photo, copied.
  const taken = quantum > 0 ? photos : moments;
  const seen = each === 1 ? null : burstSeen(taken, quantum);
  const said =
    each === undefined ? (seen ?? toldOf(known, quantum)) : saidOf(each, seen, known, taken, quantum);
  if (said === null || said.photos < 2) return { times: moments, burst: null };
  const { slack, ...burst } = said;
  const times: number[] = [];
  // Of a burst some photos may be missing, so that it ends by the clock.
  const lasts = (burst.photos - 1) * burst.interval + slack;
  for (const time of moments) if (!(time - times.at(-1)! <= lasts)) times.push(time);
  return { times, burst };
}

/** A burst, and by how much later than its photos take its last one may come, seconds. */
type Lasting = Burst & { slack: number };

function toldOf(known: Burst | null, quantum: number): Lasting | null {
  return known && { ...known, slack: Math.max(quantum, known.interval / 2) };
}

/** So many photos a trigger as the owner says; the seconds between them are the shorter gaps, as many as are within bursts. */
function saidOf(
  each: number,
  seen: Lasting | null,
  known: Burst | null,
  photos: readonly number[],
  quantum: number,
): Lasting | null {
  if (each === 1) return null;
  if (seen?.photos === each) return seen;
  if (known?.photos === each) return { ...known, slack: tightly(known.interval, quantum) };
  const gaps = gapsOf(photos).sort((a, b) => a - b);
  const within = gaps.slice(0, Math.max(1, Math.floor((gaps.length * (each - 1)) / each)));
  const interval = quantum > 0 ? within.reduce((sum, gap) => sum + gap, 0) / within.length : median(within);
  // All of one moment they are within the rounding; a single photo says nothing.
  const least = quantum > 0 ? quantum / (2 * each) : LONGEST_INTERVAL / each;
  const usual = interval > 0 ? interval : least;
  return { photos: each, interval: usual, slack: tightly(usual, quantum) };
}

function tightly(interval: number, quantum: number): number {
  return Math.max(ROUNDED_BY * quantum, LATE * interval);
}

function gapsOf(photos: readonly number[]): number[] {
  return photos.slice(1).map((time, i) => time - photos[i]!);
}

function burstSeen(photos: readonly number[], quantum: number): Lasting | null {
  const gaps = gapsOf(photos);
  const short = gaps.filter((gap) => gap <= LONGEST_INTERVAL);
  if (short.length === 0) return null;
  const usual = median(short);
  // Of a burst one photo may be missing.
  const apart = partedAt(photos, 2 * Math.max(usual, quantum) + quantum / 2, usual, quantum);
  const close = closeTogether(photos, quantum);
  if (close && close.photos !== apart?.photos) return { ...close, slack: tightly(close.interval, quantum) };
  return toldOf(apart, quantum);
}

/**
 * Bursts of a camera that fires again soon after one, so that the rest between two is hardly longer than the gaps within: parted at the
 * shortest gap that gives bunches alike, if runs of photos without a clearly longer gap hold whole bursts. Triggers that merely come
 * regularly may by their rounding seem to come in pairs, but then runs hold any number of them.
 */
function closeTogether(photos: readonly number[], quantum: number): Burst | null {
  const gaps = gapsOf(photos);
  const rising = [...new Set(gaps)].sort((a, b) => a - b);
  for (const [i, gap] of rising.entries()) {
    if (gap > LONGEST_INTERVAL) return null;
    const next = rising[i + 1];
    const clear = gap + Math.max(quantum, CLEARLY_LONGER * gap) + quantum / 4;
    const isParted = next !== undefined && next > (quantum > 0 ? gap + quantum / 2 : clear);
    if (gap <= 0 || !isParted) continue;
    const burst = partedAt(photos, gap + quantum / 4, gap, quantum);
    if (burst && holdWhole(bunchesOf(photos, clear), burst.photos)) return burst;
  }
  return null;
}

/** Whether more runs hold whole bursts than would by chance, and nearly all do. */
function holdWhole(runs: readonly (readonly number[])[], size: number): boolean {
  const whole = runs.filter(({ length }) => length % size === 0).length;
  return whole >= ALIKE * runs.length && atLeast(whole, runs.length, 1 / size) < BY_CHANCE;
}

/** How likely `least` or more of `of` happen that each do with `chance`. */
function atLeast(least: number, of: number, chance: number): number {
  let exactly = (1 - chance) ** of;
  let fewer = 0;
  for (let k = 0; k < least; k++) {
    fewer += exactly;
    exactly *= ((of - k) / (k + 1)) * (chance / (1 - chance));
  }
  return 1 - fewer;
}

function bunchesOf(photos: readonly number[], farthest: number): number[][] {
  const bunches: number[][] = [[photos[0]!]];
  gapsOf(photos).forEach((gap, i) => {
    if (gap <= farthest) bunches.at(-1)!.push(photos[i + 1]!);
    else bunches.push([photos[i + 1]!]);
  });
  return bunches;
}

/** The burst that most bunches are, parted by more than `farthest` seconds; null where they differ or their gaps do. */
function partedAt(photos: readonly number[], farthest: number, usual: number, quantum: number): Burst | null {
  const bunches = bunchesOf(photos, farthest);
  const counts = new Map<number, number>();
  for (const { length } of bunches) counts.set(length, (counts.get(length) ?? 0) + 1);
  const [size, alike] = [...counts].reduce((a, b) => (b[1] > a[1] ? b : a));
  if (size < 2 || alike < FEWEST_BUNCHES || alike < ALIKE * bunches.length) return null;
  const interval = quantum > 0 ? meanInterval(bunches.filter(({ length }) => length === size)) : usual;
  const within = gapsOf(photos).filter((gap) => gap <= farthest);
  const regular = within.filter((gap) => Math.abs(gap - interval) <= quantum + REGULAR_WITHIN * interval);
  // Nobody can tell photos that are all of one moment from copies.
  return interval > 0 && regular.length >= REGULAR * within.length ? { photos: size, interval } : null;
}

/** Rounded times tell the interval only by many bursts, for each gap is off by as much as the rounding. */
function meanInterval(bunches: readonly (readonly number[])[]): number {
  const each = bunches.map((photos) => (photos.at(-1)! - photos[0]!) / (photos.length - 1));
  return each.reduce((sum, one) => sum + one, 0) / each.length;
}
