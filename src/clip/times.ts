import { Problem } from '../base/problem.js';
import { quoted } from '../base/text.js';
import type { Cache } from '../store/cache.js';
import { pictureName } from './formats.js';
import type { Manifest } from './manifest.js';
import type { Stamp } from './stamp.js';
import { keptExifStamps, stampsOfNames } from './stamps.js';
import { type StillsSource, stillFile } from './stills.js';

/** Frame times in seconds, the first 0, and what the user should know about them. */
export interface Times {
  times: Float64Array;
  warnings: string[];
}

/** How a warning begins that times are known to the second alone. */
export const WHOLE_SECONDS = "the frames' time stamps hold whole seconds only";

/** What the owner of a clip does where nothing tells its times. */
export const GIVE_RATE = 'give a rate in clip.json';

/** Times at a constant rate in frames per second. */
export function timesAtRate(frames: number, rate: number): Float64Array {
  return Float64Array.from({ length: frames }, (_, i) => i / rate);
}

/**
 * Stamps to times: those that all hold whole seconds only are spread evenly within their second.
 * @param nameOf names frame i in messages
 * @throws Problem 'bad-times' when they do not rise strictly
 */
export function timesOfStamps(
  stamps: readonly Stamp[],
  nameOf: (index: number) => string,
  giveRate = GIVE_RATE,
): Times {
  const warnings: string[] = [];
  const wholeOnly = !stamps.some((s) => s.fraction);
  // Whole seconds of today leave a double too few digits for the fractions of them: these are counted from the first.
  const first = stamps[0]?.seconds ?? 0;
  const seconds = stamps.map((s) => s.seconds - first + (s.fraction ?? 0));
  if (wholeOnly) {
    let shared = 0;
    for (let from = 0; from < seconds.length; ) {
      const second = seconds[from]!;
      let to = from;
      while (to < seconds.length && seconds[to] === second) to++;
      for (let i = from; i < to; i++) seconds[i] = second + (i - from) / (to - from);
      if (to - from > 1) shared += to - from;
      from = to;
    }
    if (shared > 0) {
      warnings.push(
        `${WHOLE_SECONDS}; ${shared} of ${stamps.length} frames share one with others and were spread evenly within it, so times may be off by up to a second`,
      );
    }
  }
  return { times: fromZero(seconds, nameOf, giveRate, first), warnings };
}

/**
 * Shifts times so that the first is 0, then to the nanosecond.
 * @param giveRate what to do instead, in words
 * @param epoch what they are counted from, Unix seconds; for messages
 * @throws Problem 'bad-times' when they do not rise strictly
 */
export function fromZero(
  seconds: ArrayLike<number>,
  nameOf: (index: number) => string,
  giveRate = GIVE_RATE,
  epoch = 0,
): Float64Array {
  const times = new Float64Array(seconds.length);
  const first = seconds[0]!;
  for (let i = 0; i < times.length; i++) {
    const time = seconds[i]!;
    const before = seconds[i - 1]!;
    if (i > 0 && !(time > before)) {
      throw new Problem(
        'bad-times',
        `${nameOf(i)}: its time ${clock(epoch + time)} is not after ${clock(epoch + before)} of the frame before it; times must rise from frame to frame: mend the stamps or the order, or ${giveRate}`,
      );
    }
    times[i] = first === 0 ? time : toNano(time - first);
  }
  return times;
}

/** A difference of decimal fractions as it would be by hand; left as it is where it has no digits for that. */
function toNano(seconds: number): number {
  const nano = Math.round(seconds * 1e9);
  return Number.isSafeInteger(nano) ? nano / 1e9 : seconds;
}

/** Seconds as they are; from 2001 on as a date too. */
function clock(seconds: number): string {
  return seconds > 978_307_200 ? new Date(seconds * 1000).toISOString().replace('Z', '') : `${seconds} s`;
}

/**
 * Times listed in the manifest, one for each frame.
 * @throws Problem 'bad-times' when there are more or fewer, or they do not rise
 */
export function listedTimes(listed: readonly number[], frames: number, file: string): Float64Array {
  if (listed.length !== frames) {
    throw new Problem(
      'bad-times',
      `${file}: times: expected one time for each of the ${frames} frames, found ${listed.length}`,
    );
  }
  return fromZero(listed, (i) => `${file}: times[${i}]`);
}

/**
 * The times of stills, as the manifest says. Those from EXIF are kept under the content's key, so that files are not
 * opened again for them.
 * @throws Problem 'bad-times'
 */
export async function stillTimes(
  source: StillsSource,
  manifest: Manifest,
  file: string,
  contentKey: string,
  options: { cache: Cache; signal?: AbortSignal | undefined; giveRate?: string },
): Promise<Times> {
  const { rate, times } = manifest;
  const { giveRate = GIVE_RATE } = options;
  const frames = source.names.length;
  if (rate !== undefined) return { times: timesAtRate(frames, rate), warnings: [] };
  if (Array.isArray(times)) return { times: listedTimes(times, frames, file), warnings: [] };
  const nameOf = (index: number) => pictureName(stillFile(source, index), index);
  if (times === 'names') return timesOfStamps(stampsOfNames(source, giveRate), nameOf, giveRate);
  if (times === 'exif') {
    const stamps = await keptExifStamps(source, contentKey, { ...options, giveRate });
    return timesOfStamps(stamps, nameOf, giveRate);
  }
  throw new Problem(
    'bad-times',
    times === 'video'
      ? `${file}: times: "video" is for a video, but frames is ${quoted(manifest.frames)}; expected "exif", "names" or a list, or a rate`
      : `${file}: stills need their times; give "rate" (frames per second), or "times": "exif", "names" or a list in seconds`,
  );
}
