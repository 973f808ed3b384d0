import { createHash, type Hash } from 'node:crypto';
import type { Stats } from 'node:fs';
import { access, constants, open, readFile, readlink, realpath, rm, stat } from 'node:fs/promises';
import { basename, dirname, join, resolve, sep } from 'node:path';
import { Problem } from '../base/problem.js';
import { writeAtomic } from './atomic.js';
import { codeOf, unwritable } from './faults.js';
import { writeToStream } from './output-stream.js';
import { besides, sweep } from './partial.js';

/** Remembers what this program wrote where, so that it may write there again. */
export interface Made {
  /** Whether a file of this content was the last that was written there, or was to be. */
  knows(file: string, digest: string): Promise<boolean>;
  /** Called before a file of this content is written. */
  note(file: string, digest: string): Promise<void>;
}

export interface OutputRules {
  /** Files and folders that the run reads: nothing is written over them, or over what lies in them. */
  reads: readonly string[];
  /** Whether to write over a file that somebody else made. */
  force: boolean;
  made: Made;
}

/** A place that was found fit to be written to, before the work began. */
export interface Output {
  /** As it was named. */
  readonly path: string;
  /** Where that leads over all links. */
  readonly file: string;
  /**
   * Writes all of it: a file whole or not at all, a pipe or a device as a stream. What comes in pieces is written as it comes.
   * @param ready asked, once all is written beside, whether it may be put in place, being told whether the place is as it was found;
   * what it throws leaves the place as it was
   * @throws Problem 'file-unwritable', and whatever the pieces and `ready` throw
   */
  write(
    bytes: Uint8Array | string | AsyncIterable<string>,
    ready?: (isFree: boolean) => Promise<boolean>,
  ): Promise<void>;
}

/** How far above a file a clip.json is looked for. */
const DEEPEST = 8;
/** Symbolic links followed at most. */
const MOST_LINKS = 40;

/**
 * Sees that a place may be written to: it is no file that the run reads and none that lies in a clip; if there is a file,
 * this program made it, or it is empty, or `force` is given; and it can be written. Links are followed, permissions kept.
 * @param option what the user gave it with, for messages
 * @throws Problem 'file-unwritable' or 'usage'
 */
export async function openOutput(option: string, path: string, rules: OutputRules): Promise<Output> {
  const refuse = (text: string): never => {
    throw new Problem('file-unwritable', `${option} ${path}: ${text}`);
  };
  if (path.trim() === '') throw new Problem('usage', `${option}: expected the name of a file, found none`);
  const file = await followed(path).catch((error) => {
    throw unwritable(path, error);
  });
  const there = await stat(file).catch((error) => {
    if (codeOf(error) !== 'ENOENT') throw unwritable(path, error);
    return null;
  });
  if (there?.isDirectory()) refuse('this is a folder; expected a file; add a name to it');
  await refuseWhatIsRead(file, there, rules.reads, refuse);
  if (there && !there.isFile()) return stream(path, file);
  await refuseInClip(file, there, refuse);
  const found = there && (await digestOf(file));
  if (there && there.size > 0 && !rules.force && !(await rules.made.knows(file, found ?? ''))) {
    refuse(
      'there is a file already that perchmark did not make, or that was changed since; choose another name, or add --force to write over it',
    );
  }
  await tryIt(path, file, there);
  return {
    path,
    file,
    async write(bytes, ready) {
      const hash = createHash('sha256');
      let beside: string | null = null;
      let isFree = true;
      const place = async () => {
        const now = (await stat(file).catch(() => null)) && (await digestOf(file));
        isFree = now === found || rules.force;
        if (!(ready ? await ready(isFree) : isFree)) {
          beside = await freeBeside(file);
          return beside;
        }
        // Before, so that a run that is killed between the two may write over its own file the next time.
        await rules.made.note(file, hash.digest('hex'));
        return file;
      };
      try {
        await writeAtomic(file, hashed(bytes, hash), besides(file), undefined, place);
      } catch (error) {
        throw inTermsOf(path, file, error);
      }
      if (beside !== null) {
        refuse(
          `${isFree ? 'what belongs with it was changed' : 'somebody wrote there'} while this ran, so it was left as it is; what was to be written is in ${beside}`,
        );
      }
    },
  };
}

/**
 * Writes files that belong together: none is put in place before all of them are whole, and none at all where one cannot be written or
 * the place of one was changed meanwhile; all stand beside their places then.
 * @throws what the first that failed throws
 */
export async function writeTogether(
  files: readonly (readonly [output: Output, bytes: Uint8Array | string | AsyncIterable<string>])[],
): Promise<void> {
  let left = files.length;
  let areFree = true;
  let letGo = (_: boolean) => {};
  let stop = (_: unknown) => {};
  const whole = new Promise<boolean>((resolve, reject) => {
    letGo = resolve;
    stop = reject;
  });
  // Told by the writes that wait for it, or by the one that failed.
  whole.catch(() => undefined);
  const arrive = (isFree: boolean) => {
    left--;
    areFree &&= isFree;
    if (left === 0) letGo(areFree);
    return whole;
  };
  const written = files.map(async ([output, bytes]) => {
    try {
      await output.write(bytes, arrive);
    } catch (error) {
      stop(error);
      throw error;
    }
  });
  const failed = (await Promise.allSettled(written)).find(({ status }) => status === 'rejected');
  if (failed?.status === 'rejected') throw failed.reason;
}

/** The same pieces, each told to a hash as it passes. */
async function* hashed(
  bytes: Uint8Array | string | AsyncIterable<string>,
  hash: Hash,
): AsyncGenerator<Uint8Array | string> {
  const pieces = typeof bytes === 'string' || bytes instanceof Uint8Array ? [bytes] : bytes;
  for await (const piece of pieces) {
    hash.update(piece);
    yield piece;
  }
}

/**
 * Writes what a verb exists to write, whatever stood there before. Links are followed, permissions kept.
 * @throws Problem 'file-unwritable'
 */
export async function replaceOwn(path: string, bytes: Uint8Array | string): Promise<void> {
  const file = await followed(path).catch((error) => {
    throw unwritable(path, error);
  });
  const there = await stat(file).catch(() => null);
  if (there && !there.isFile() && !there.isDirectory()) return stream(path, file).write(bytes);
  await sweep(dirname(file));
  await writeAtomic(file, bytes).catch((error) => {
    throw inTermsOf(path, file, error);
  });
}

/** The file that a path leads to over all links, whether it is there or not. @throws the system's error */
export async function followed(path: string): Promise<string> {
  let here = resolve(path);
  for (let i = 0; i < MOST_LINKS; i++) {
    const folder = await realpath(dirname(here));
    const target = await readlink(join(folder, basename(here))).catch(() => null);
    if (target === null) return join(folder, basename(here));
    here = resolve(folder, target);
  }
  throw Object.assign(new Error('too many links'), { code: 'ELOOP' });
}

type Refuse = (text: string) => never;

async function refuseWhatIsRead(
  file: string,
  there: Stats | null,
  reads: readonly string[],
  refuse: Refuse,
): Promise<void> {
  if (!there) return;
  for (const read of reads) {
    const other = await stat(read).catch(() => null);
    if (other && other.ino === there.ino && other.dev === there.dev) {
      refuse(`this is ${read}, which this run reads, and it would be lost; choose another name`);
    }
    if (other?.isDirectory() && file.startsWith(join(await realpath(read), sep))) {
      refuse(`this file lies in ${read}, which this run reads, and would be lost; choose another place`);
    }
  }
}

/** A clip is the owner's: nothing in it is replaced, and nothing is put where it would be taken for a part of it. */
async function refuseInClip(file: string, there: Stats | null, refuse: Refuse): Promise<void> {
  for (let folder = dirname(file), depth = 0; depth < DEEPEST; folder = dirname(folder), depth++) {
    if (!(await stat(join(folder, 'clip.json')).catch(() => null))) continue;
    const part =
      depth > 0 ||
      /^(clip|labels)\.json$|\.(jpe?g|png|bmp|tiff?|mp4|mkv|mov|avi|webm)$/i.test(basename(file));
    if (there)
      refuse(`this file lies in the clip ${folder}, in which nothing is replaced; choose another place`);
    if (part) refuse(`this would become a part of the clip ${folder}; choose another place`);
  }
}

/** A name beside a file that nothing has yet. */
export async function freeBeside(file: string): Promise<string> {
  for (let i = 1; ; i++) {
    const name = `${file}.${i}`;
    if (!(await stat(name).catch(() => null))) return name;
  }
}

async function digestOf(file: string): Promise<string> {
  const bytes = await readFile(file).catch((error) => {
    throw unwritable(file, error);
  });
  return createHash('sha256').update(bytes).digest('hex');
}

/** Finds out now, not after the work, that a file cannot be written. */
async function tryIt(path: string, file: string, there: Stats | null): Promise<void> {
  await sweep(dirname(file));
  const trial = besides(file);
  try {
    if (there) await access(file, constants.W_OK);
    await (await open(trial, 'wx')).close();
  } catch (error) {
    throw unwritable(path, error);
  } finally {
    await rm(trial, { force: true });
  }
}

function stream(path: string, file: string): Output {
  return {
    path,
    file,
    async write(bytes, ready) {
      if (ready && !(await ready(true))) return;
      await writeToStream(path, file, bytes);
    },
  };
}

/** Messages name what the user wrote, not where links led. */
function inTermsOf(path: string, file: string, error: unknown): unknown {
  return error instanceof Problem ? new Problem(error.code, error.message.replace(file, path)) : error;
}
