import type { Dirent } from 'node:fs';
import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { Problem } from '../base/problem.js';
import { zoneOf } from '../base/time.js';
import { codeOf } from '../files/faults.js';
import { openRegular, unreadable } from '../files/regular.js';
import { exifMoment } from './exif.js';
import { formatOfBytes, formatOfName } from './formats.js';
import { naturalOrder } from './pattern.js';
import type { Stamp } from './stamp.js';
import { calendarStamp, unixStamp } from './stamps.js';

/** A photo that lies in a folder, or in one within it. */
export interface FoundPhoto {
  /** Relative to the folder, with / between folders. */
  name: string;
  file: string;
  /** Seconds by the clock of whatever took it, counted as if it were UTC; null where neither EXIF nor the name tells. */
  time: number | null;
  /** Minutes that this clock is ahead of UTC, by EXIF, or 0 for Unix time in the name; null: nobody says. */
  zone: number | null;
  bytes: number;
  /** Milliseconds, when the file was last changed. */
  changed: number;
}

export interface PhotoFolder {
  /** In order of time, those without one last, in natural order of their names. */
  photos: FoundPhoto[];
  /** What was left out of them, a line a kind. */
  leftOut: string[];
  /** How often, in natural order within a folder, time went back; with the first of such photos. */
  wentBack: { times: number; first: string } | null;
}

/** Formats that cameras write photos in, and that a page can show. */
const FORMATS = ['JPEG', 'PNG'];
const MOST_PHOTOS = 100_000;
const DEEPEST = 8;
/** Seconds, 2001 by the Unix clock: a clock that says less was never set. */
const CLOCK_SET = 978_307_200;
/** Stamps of whole seconds, and of files that are written a moment late, may differ by so much. */
const SLACK = 1;

/**
 * The photos of a folder and of those within it, links to folders left alone. Nothing is changed.
 * @throws Problem 'file-missing' where there is none, 'file-unreadable', 'usage' for more than are read
 */
export async function photosIn(
  folder: string,
  ports: { onProgress?: (done: number, total: number) => void; signal?: AbortSignal | undefined } = {},
): Promise<PhotoFolder> {
  if (folder.trim() === '')
    throw new Problem('usage', `expected the name of ${EXPECTED}, found an empty one`);
  const leftOut = new LeftOut();
  const names = await namesIn(folder, '', 0, leftOut);
  if (names.length > MOST_PHOTOS) {
    throw new Problem(
      'usage',
      `${folder}: expected at most ${MOST_PHOTOS} photos at a time, found ${names.length}; give the folders within it one by one`,
    );
  }
  names.sort(naturalOrder);
  const photos: FoundPhoto[] = [];
  const seen = new Set<string>();
  for (const [i, name] of names.entries()) {
    ports.signal?.throwIfAborted();
    ports.onProgress?.(i, names.length);
    const photo = await photoAt(folder, name, seen, leftOut);
    if (photo) photos.push(photo);
  }
  if (photos.length === 0) {
    throw new Problem(
      'file-missing',
      `${folder}: the folder holds no photos (JPEG or PNG)${leftOut.none()}; give the folder that the camera's photos were copied into`,
    );
  }
  const wentBack = backwards(photos);
  // Sorting keeps the order of those that are equal.
  photos.sort((a, b) => (a.time ?? Number.POSITIVE_INFINITY) - (b.time ?? Number.POSITIVE_INFINITY) || 0);
  return { photos, leftOut: leftOut.lines(folder), wentBack };
}

const EXPECTED = 'a folder of photos';

async function namesIn(folder: string, within: string, depth: number, leftOut: LeftOut): Promise<string[]> {
  const place = join(folder, within);
  const entries = await readdir(place, { withFileTypes: true }).catch(async (error) => {
    if (codeOf(error) === 'ENOTDIR') {
      throw new Problem('file-unreadable', `${place}: this is a file; expected ${EXPECTED}`);
    }
    throw await unreadable(place, error, EXPECTED);
  });
  const names: string[] = [];
  // What `evening .` would find in a project: recordings are no photos that a camera brought back.
  if (within !== '' && entries.some(({ name }) => name === 'clip.json')) {
    leftOut.add('clip', within);
    return names;
  }
  for (const entry of entries) {
    if (entry.name.startsWith('.')) continue;
    const name = within === '' ? entry.name : `${within}/${entry.name}`;
    if (entry.isDirectory()) {
      if (depth < DEEPEST)
        for (const deeper of await namesIn(folder, name, depth + 1, leftOut)) names.push(deeper);
      else leftOut.add('deep', name);
    } else if (mayBePhoto(entry, name, leftOut)) names.push(name);
  }
  return names;
}

function mayBePhoto(entry: Dirent, name: string, leftOut: LeftOut): boolean {
  if (!FORMATS.includes(formatOfName(entry.name) ?? '')) return false;
  // What is no UTF-8 comes with this character in its place, and cannot be opened by such a name.
  if (!name.includes('\ufffd')) return true;
  leftOut.add('name', name);
  return false;
}

async function photoAt(
  folder: string,
  name: string,
  seen: Set<string>,
  leftOut: LeftOut,
): Promise<FoundPhoto | null> {
  const file = join(folder, name);
  const info = await stat(file).catch(() => null);
  if (!info) {
    leftOut.add('nowhere', name);
    return null;
  }
  if (!info.isFile()) {
    leftOut.add('no file', name);
    return null;
  }
  const same = `${info.dev} ${info.ino}`;
  const why: Why | null =
    info.size === 0 ? 'empty' : seen.has(same) ? 'second' : (await beginsAsPhoto(file)) ? null : 'no picture';
  if (why !== null) {
    leftOut.add(why, name);
    return null;
  }
  seen.add(same);
  return { name, file, ...(await timeOf(file, name)), bytes: info.size, changed: info.mtimeMs };
}

async function beginsAsPhoto(file: string): Promise<boolean> {
  const handle = await openRegular(file, 'a photo');
  try {
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(16), 0, 16, 0);
    return FORMATS.includes(formatOfBytes(buffer.subarray(0, bytesRead)) ?? '');
  } finally {
    await handle.close();
  }
}

/** By EXIF, else by the name; a damaged file tells none by EXIF. */
async function timeOf(file: string, path: string): Promise<Pick<FoundPhoto, 'time' | 'zone'>> {
  const { stamp, zone } = (await exifMoment(file).catch(() => null)) ?? { stamp: null, zone: null };
  if (stamp) return { time: secondsOf(stamp), zone: zone === null ? null : zoneOf(zone) };
  const name = path.slice(path.lastIndexOf('/') + 1);
  const calendar = calendarStamp(name);
  if (calendar) return { time: secondsOf(calendar), zone: null };
  const time = secondsOf(unixStamp(name));
  return { time, zone: time === null ? null : 0 };
}

function secondsOf(stamp: Stamp | null): number | null {
  return stamp && stamp.seconds >= CLOCK_SET ? stamp.seconds + (stamp.fraction ?? 0) : null;
}

function backwards(photos: readonly FoundPhoto[]): PhotoFolder['wentBack'] {
  const latest = new Map<string, number>();
  let times = 0;
  let first: string | null = null;
  for (const { name, time } of photos) {
    if (time === null) continue;
    const within = name.slice(0, name.lastIndexOf('/') + 1);
    const before = latest.get(within);
    if (before !== undefined && time < before - SLACK) {
      times++;
      first ??= name;
    }
    latest.set(within, time);
  }
  return first === null ? null : { times, first };
}

/** Why a file is left out: of one, and of several. */
const reasons = {
  clip: ['it is a clip, not an evening', 'they are clips, not an evening'],
  deep: ['it lies too deep in folders within folders', 'they lie too deep in folders within folders'],
  name: ['its name is no UTF-8; rename it', 'their names are no UTF-8; rename them'],
  nowhere: ['it is a link that leads nowhere', 'they are links that lead nowhere'],
  'no file': ['it is no file', 'they are no files'],
  empty: ['it is empty', 'they are empty'],
  second: ['it is another photo under a second name', 'they are other photos under second names'],
  'no picture': [
    'it is no picture, whatever its name says',
    'they are no pictures, whatever their names say',
  ],
} as const;
type Why = keyof typeof reasons;

/** Gathers what is left out, so that hundreds of files are one line. */
class LeftOut {
  private readonly kinds = new Map<Why, { count: number; first: string }>();

  add(why: Why, name: string): void {
    const { count, first } = this.kinds.get(why) ?? { count: 0, first: name };
    this.kinds.set(why, { count: count + 1, first });
  }

  lines(folder: string): string[] {
    return [...this.kinds].map(([why, { count, first }]) => {
      const file = join(folder, first);
      const [one, many] = reasons[why];
      return count === 1
        ? `${file}: left out, because ${one}`
        : `${count} ${why === 'clip' ? 'folders' : 'files'} were left out, because ${many}: first ${file}`;
    });
  }

  /** The end of a message that there is no photo. */
  none(): string {
    const all = [...this.kinds.values()].reduce((sum, { count }) => sum + count, 0);
    const [first] = this.kinds;
    return first ? `: of ${all} called so none is one (${first[1].first}: ${reasons[first[0]][0]})` : '';
  }
}
