import type { Stats } from 'node:fs';
import { constants, readdir, stat, utimes } from 'node:fs/promises';
import { basename, dirname, extname, join } from 'node:path';
import { Problem } from '../base/problem.js';
import { oneLine } from '../base/text.js';
import { codeOf } from '../files/faults.js';
import { type FolderInMaking, makeFolderAtomically } from '../files/folder.js';
import { liesIn } from '../files/output-folder.js';
import { otherThanFile, unreadable } from '../files/regular.js';
import type { Cache } from '../store/cache.js';
import { exifStamp } from './exif.js';
import { formatOfName, insteadOfPictures, stillEndings } from './formats.js';
import type { Manifest } from './manifest.js';
import { openClip } from './open.js';
import { naturalOrder } from './pattern.js';
import { nameStamp } from './stamps.js';
import { type Start, startOfStill, startOfVideo } from './start.js';

export interface AddOptions {
  /** Frames per second; instead of times. */
  rate?: number;
  times?: 'exif' | 'names' | 'video';
  title?: string;
  site?: string;
  /** What somebody says of when, where and in what weather it was recorded, whatever the recording says. */
  said?: Pick<Manifest, 'start' | 'place' | 'conditions'>;
  /** Whether its files become the clip's, and no copies of them: for what is this program's own, on the same file system. */
  moves?: boolean;
  /** Whether its files stand in the clip as hard links where that can be, so that a large one takes no room twice. */
  links?: boolean;
  cache: Cache;
  signal?: AbortSignal;
  /** What belongs to the clip elsewhere, once it is there; no signal comes between. */
  enter?: () => Promise<void>;
  /** Files read while the finished clip is proved, of all. */
  onProgress?: (done: number, total: number) => void;
}

export interface Added {
  dir: string;
  frames: number;
  seconds: number;
  /** When it began, as clip.json now has it; null: the recording does not say with a zone. */
  start: Start | null;
  warnings: string[];
}

/**
 * Makes a clip folder from a recording, which is copied (or linked) and never changed unless `moves` is given. Nothing is left behind when
 * it fails or is stopped.
 * @param recording a folder of stills, or a video file
 * @param dir the new clip folder; must not exist or be empty
 * @throws Problem, or the signal's reason, or what `enter` throws, the clip stays then; the finished clip is opened before it appears, so whatever openClip refuses is refused here
 */
export async function addRecording(recording: string, dir: string, options: AddOptions): Promise<Added> {
  if (options.rate !== undefined && options.times !== undefined) {
    throw new Problem('usage', '--rate and --times were both given; give one of them');
  }
  if (recording.trim() === '') throw new Problem('usage', `expected ${EXPECTED}, found an empty name`);
  const info = await stat(recording).catch(async (error) => {
    if (codeOf(error) !== 'ENOENT') throw await unreadable(recording, error, EXPECTED);
    throw new Problem('file-missing', `${recording}: there is no such file or folder; expected ${EXPECTED}`);
  });
  if (info.isDirectory() && (await liesIn(dir, recording))) {
    throw new Problem(
      'usage',
      `${dir}: the clip would lie inside the recording ${recording}, which stays as it is; choose a folder elsewhere`,
    );
  }
  if (!info.isDirectory()) refuseOther(info, recording, EXPECTED);
  const plan = info.isDirectory()
    ? await planStills(recording, options)
    : await planVideo(recording, options);
  const { title, site, said, cache, onProgress, signal, enter } = options;
  const start = said?.start === undefined ? plan.start : { start: said.start, says: 'owner' };
  const manifest: Manifest = {
    version: 1,
    ...(title === undefined ? {} : { title }),
    ...(site === undefined ? {} : { site }),
    ...plan.manifest,
    ...said,
    ...(start && { start: start.start }),
  };
  let added: Added | undefined;
  const fill = async (folder: FolderInMaking) => {
    const { path: partial } = folder;
    const copied = await bringAll(plan.copies, folder, options);
    await folder.writeJson('clip.json', manifest);
    const ports = { cache, ...(onProgress && { onProgress }), ...(signal && { signal }) };
    const clip = await openClip(partial, { ...ports, giveRate: RATE_UNKNOWN }).catch((error) => {
      throw inTermsOf(recording, partial, plan, error);
    });
    const warnings = clip.warnings.map((line) => line.replaceAll(partial, dir));
    if (options.links === true && copied > 0) warnings.push(notLinked(recording, dir, copied));
    added = { dir, frames: clip.times.length, seconds: clip.seconds, start, warnings };
  };
  await makeFolderAtomically(dir, fill, enter);
  return added as Added;
}

const EXPECTED = 'a folder of stills or a video file';
/** What to do where nothing tells the time, on the command line. */
export const RATE_UNKNOWN = 'say how many frames a second were taken: --rate 5';

/** What is no file is refused before it is opened: a named pipe would be waited for, a device may never end. */
function refuseOther(info: Stats, file: string, expected: string): void {
  const other = otherThanFile(info);
  if (other === null) return;
  throw new Problem('file-unreadable', `${file}: this is ${other}; expected ${expected}`);
}

interface Plan {
  copies: { from: string; to: string }[];
  manifest: Pick<Manifest, 'frames' | 'rate' | 'times'>;
  start: Start | null;
}

async function planStills(folder: string, options: AddOptions): Promise<Plan> {
  const entries = (await readdir(folder)).filter((name) => !name.startsWith('.'));
  const names = entries.filter((name) => formatOfName(name) !== undefined).sort(naturalOrder);
  if (names.length === 0) {
    throw new Problem(
      'file-missing',
      `${folder}: the folder holds no stills (${stillEndings.join(', ')})${insteadOfPictures(entries.length)}; give the folder that holds the stills themselves, or a video file`,
    );
  }
  const formats = [...new Set(names.map(formatOfName))];
  if (formats.length > 1) {
    throw new Problem(
      'bad-picture',
      `${folder}: the folder holds stills of ${formats.length} formats (${formats.join(', ')}); expected one, so that no moment counts twice: keep one of them in the folder`,
    );
  }
  for (const name of names) {
    const file = join(folder, name);
    const info = await stat(file).catch(async (error) => {
      throw await unreadable(file, error, 'a still');
    });
    refuseOther(info, file, 'a still; take it out of the folder');
  }
  const endings = new Set(names.map((name) => extname(name)));
  const pattern = endings.size === 1 ? `frames/*${[...endings][0]}` : 'frames/*';
  const first = join(folder, names[0]!);
  const chosen =
    options.rate !== undefined
      ? { rate: options.rate }
      : { times: options.times ?? (await timesFound(folder, names)) };
  return {
    copies: names.map((name) => ({ from: join(folder, name), to: join('frames', name) })),
    manifest: { frames: pattern, ...chosen },
    start: await startOfStill(first, 'times' in chosen && chosen.times === 'names').catch(() => null),
  };
}

async function timesFound(folder: string, names: readonly string[]): Promise<'exif' | 'names'> {
  let exif = true;
  for (const name of names) {
    if (!(await exifStamp(join(folder, name)))) {
      exif = false;
      break;
    }
  }
  if (exif) return 'exif';
  if (names.every((name) => nameStamp(name))) return 'names';
  throw new Problem(
    'bad-times',
    `${folder}: not all stills hold an EXIF time, nor do all names hold one (20260504_061000.jpg, Unix seconds or milliseconds); ${RATE_UNKNOWN}`,
  );
}

async function planVideo(file: string, options: AddOptions): Promise<Plan> {
  if (options.times === 'exif' || options.times === 'names') {
    throw new Problem(
      'usage',
      `${file}: --times ${options.times} is for a folder of stills; leave it out to use the video's own times, or give --rate`,
    );
  }
  if (formatOfName(file) !== undefined) {
    throw new Problem(
      'usage',
      `${file}: this is one still; expected the folder that holds the stills, or a video file`,
    );
  }
  // A name with * or ? would be read as a pattern, one with a colon as a place on another disk.
  const name = /[*?:]/.test(basename(file)) ? `recording${extname(file)}` : basename(file);
  const chosen = options.rate === undefined ? {} : { rate: options.rate };
  return {
    copies: [{ from: file, to: name }],
    manifest: { frames: name, ...chosen },
    start: await startOfVideo(file),
  };
}

/** @returns how many files were copied */
async function bringAll(
  copies: Plan['copies'],
  folder: FolderInMaking,
  { moves = false, links = false, signal }: Pick<AddOptions, 'moves' | 'links' | 'signal'>,
): Promise<number> {
  let copied = 0;
  for (const { from, to } of copies) {
    signal?.throwIfAborted();
    await folder.makeFolder(dirname(to));
    if (moves) {
      await folder.take(from, to);
      continue;
    }
    if (links && (await folder.takeLink(from, to))) continue;
    copied++;
    await folder.copy(from, to, constants.COPYFILE_EXCL | constants.COPYFILE_FICLONE);
    // Keeping the change time lets the content's key be remembered at once: the copy counts as old as it is.
    const { atime, mtime } = await stat(from);
    await utimes(join(folder.path, to), atime, mtime);
  }
  return copied;
}

function notLinked(recording: string, dir: string, copied: number): string {
  const what = copied === 1 ? 'its file was copied' : `${copied} files were copied`;
  return `${recording}: ${what}, because ${dir} can hold no hard link to it; make the clip on the same file system as the recording to save the room`;
}

/** Messages about the unfinished folder would name files that are gone when the user reads them. */
function inTermsOf(recording: string, partial: string, { manifest }: Plan, error: unknown): unknown {
  if (!(error instanceof Problem)) return error;
  // As messages have it: what would act on a terminal is spelled out in them.
  const shown = oneLine(partial);
  const message = [oneLine(manifest.frames), 'frames', 'clip.json'].reduce(
    (text, name) => text.replaceAll(join(shown, name), recording),
    error.message,
  );
  return new Problem(error.code, message.replaceAll(shown, recording));
}
