import { Problem } from '../base/problem.js';
import type { Cache } from '../store/cache.js';
import { readSealed, writeSealed } from '../store/sealed.js';
import { exifStamp } from './exif.js';
import { pictureName } from './formats.js';
import type { Stamp } from './stamp.js';
import { type StillsSource, stillFile } from './stills.js';

/**
 * Stamps in the names of stills: YYYYMMDD and HHMMSS with any one character or none between, and three more digits for
 * milliseconds; or Unix seconds (10 digits) or milliseconds (13).
 * @throws Problem 'bad-times' naming the first file without one
 */
export function stampsOfNames(source: StillsSource, giveRate: string): Stamp[] {
  return source.names.map((name, i) => {
    const stamp = nameStamp(name);
    if (stamp) return stamp;
    throw new Problem(
      'bad-times',
      `${pictureName(stillFile(source, i), i)}: no time in the file's name; expected YYYYMMDD and HHMMSS (20260504_061000 or 20260504_061000_250), or Unix seconds or milliseconds; rename it, or ${giveRate}`,
    );
  });
}

/** The time that a file's name holds, or null. */
export function nameStamp(name: string): Stamp | null {
  return calendarStamp(name) ?? unixStamp(name);
}

/** The date and time of day that a file's name holds, by a clock of no known zone, or null. */
export function calendarStamp(name: string): Stamp | null {
  for (const match of name.matchAll(/(?<!\d)(\d{8})\D?(\d{6})(?:\D?(\d{3}))?(?!\d)/g)) {
    const seconds = calendarSeconds(match[1]!, match[2]!);
    if (seconds === null) continue;
    return match[3] === undefined ? { seconds } : { seconds, fraction: Number(match[3]) / 1000 };
  }
  return null;
}

/** The Unix time that a file's name holds, seconds or milliseconds, which is in UTC; or null. */
export function unixStamp(name: string): Stamp | null {
  const unix = /(?<!\d)(\d{10})(\d{3})?(?!\d)/.exec(name);
  if (!unix) return null;
  const seconds = Number(unix[1]);
  return unix[2] === undefined ? { seconds } : { seconds, fraction: Number(unix[2]) / 1000 };
}

function calendarSeconds(day: string, time: string): number | null {
  const date = `${day.slice(0, 4)}-${day.slice(4, 6)}-${day.slice(6)}`;
  const iso = `${date}T${time.slice(0, 2)}:${time.slice(2, 4)}:${time.slice(4)}Z`;
  const moment = new Date(iso);
  // Date reads 24:00:00 and the 30th of February as the day after; such digits are no stamp.
  if (Number.isNaN(moment.getTime()) || moment.toISOString().replace('.000', '') !== iso) return null;
  return moment.getTime() / 1000;
}

/**
 * DateTimeOriginal of every still, by EXIF.
 * @throws Problem 'bad-times' naming the first file without it
 */
async function stampsOfExif(source: StillsSource, giveRate: string, signal?: AbortSignal): Promise<Stamp[]> {
  const stamps: Stamp[] = [];
  for (let i = 0; i < source.names.length; i++) {
    signal?.throwIfAborted();
    const stamp = await exifStamp(stillFile(source, i));
    if (!stamp) {
      throw new Problem(
        'bad-times',
        `${pictureName(stillFile(source, i), i)}: no EXIF DateTimeOriginal in the file; use times "names" if the names hold the time, or ${giveRate}`,
      );
    }
    stamps.push(stamp);
  }
  return stamps;
}

/** As stampsOfExif, but kept under the content's key, so that a second run opens no file for them. */
export async function keptExifStamps(
  source: StillsSource,
  contentKey: string,
  { cache, signal, giveRate }: { cache: Cache; signal?: AbortSignal | undefined; giveRate: string },
): Promise<Stamp[]> {
  const entry = ['stamps', contentKey];
  const kept = await readSealed(cache, entry);
  const frames = source.names.length;
  if (kept?.length === frames * bytesPerStamp)
    return Array.from({ length: frames }, (_, i) => stampAt(kept, i));
  const stamps = await stampsOfExif(source, giveRate, signal);
  const bytes = Buffer.alloc(frames * bytesPerStamp);
  for (const [i, { seconds, fraction }] of stamps.entries()) {
    bytes.writeDoubleLE(seconds, i * bytesPerStamp);
    bytes.writeDoubleLE(fraction ?? Number.NaN, i * bytesPerStamp + 8);
  }
  await writeSealed(cache, entry, bytes);
  return stamps;
}

/** Two 64-bit floats: seconds, and the fraction or NaN for none. */
const bytesPerStamp = 16;

function stampAt(bytes: Buffer, index: number): Stamp {
  const seconds = bytes.readDoubleLE(index * bytesPerStamp);
  const fraction = bytes.readDoubleLE(index * bytesPerStamp + 8);
  return Number.isNaN(fraction) ? { seconds } : { seconds, fraction };
}
