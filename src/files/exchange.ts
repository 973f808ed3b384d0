import { open, readdir, rm, stat, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { Problem } from '../base/problem.js';
import { putInPlace } from './atomic.js';
import { codeOf, unwritable } from './faults.js';
import { followed } from './output.js';
import { begin, besides, done, isPartialOf, sweepAmong } from './partial.js';

export interface ExchangePatience {
  /** Somebody else's file in the making that is older was left behind: writing takes milliseconds. */
  staleMs: number;
  /** So long others are waited for. */
  giveUpMs: number;
  /** The names in a folder. */
  list?: (folder: string) => Promise<string[]>;
  pause?: (ms: number) => Promise<unknown>;
}

const PATIENCE: ExchangePatience = { staleMs: 30_000, giveUpMs: 60_000 };
/** Between two looks at who else is there: twice as long each time, for a look lists all of the folder. */
const LOOK_AGAIN_MS = { first: 5, longest: 200 };
/** How often what waits is marked as alive while others would take it for left behind. */
const MARKS = 4;

/** Within this process they take turns, by file. */
const queues = new Map<string, Promise<unknown>>();

/**
 * Replaces a file by what is made of what it holds: between the two nobody else who calls this writes it, in whichever
 * process. Links are followed, permissions kept.
 *
 * Whoever wants to write makes the file that will be renamed first, beside the old one, and then looks for others' there: of
 * two, the later to look sees the other. Where there is one, the first by name stays and waits, the rest go back. What a
 * process left there that was killed is removed; should it go on after all, its rename finds nothing, so that a wrong guess
 * loses nothing either.
 *
 * @param next asked for what to write, may be more than once; null: the file stays as it is
 * @returns whether it was written
 * @throws Problem 'file-unwritable', and whatever `next` throws
 */
export async function exchange(
  path: string,
  next: () => Promise<Uint8Array | string | null>,
  patience: ExchangePatience = PATIENCE,
): Promise<boolean> {
  const file = await followed(path).catch((error) => {
    throw unwritable(path, error);
  });
  const take = () => exchanged(path, file, next, patience);
  const taken = (queues.get(file) ?? Promise.resolve()).then(take, take);
  queues.set(file, taken);
  return taken.finally(() => {
    if (queues.get(file) === taken) queues.delete(file);
  });
}

async function exchanged(
  path: string,
  file: string,
  next: () => Promise<Uint8Array | string | null>,
  patience: ExchangePatience,
): Promise<boolean> {
  const until = performance.now() + patience.giveUpMs;
  for (;;) {
    const ticket = await turn(path, file, patience, until);
    try {
      const bytes = await next();
      if (bytes === null) return false;
      // Where it was taken for left behind it is not there any more, and the turn is another's.
      const mine = await writeFile(ticket, bytes, { flag: 'r+' })
        .then(() => putInPlace(ticket, file))
        .then(() => true)
        .catch(async (error) => {
          if (codeOf(error) === 'ENOENT' && !(await isThere(ticket))) return false;
          throw unwritable(path, error);
        });
      if (mine) return true;
    } finally {
      await rm(ticket, { force: true }).catch(() => undefined);
      done(ticket);
    }
  }
}

/** Waits until nobody else is writing the file. @returns an empty file beside it, which says that somebody is */
async function turn(
  path: string,
  file: string,
  { staleMs, list = readdir, pause = wait }: ExchangePatience,
  until: number,
): Promise<string> {
  const waitLonger = growingPause(pause);
  for (;;) {
    const ticket = besides(file);
    begin(ticket);
    try {
      await writeFile(ticket, '', { flag: 'wx' });
      const made = (await stat(ticket)).mtimeMs - performance.now();
      let marked = performance.now();
      for (;;) {
        // By the clock of whoever keeps the files.
        const others = await othersOf(file, ticket, list, () => made + performance.now() - staleMs);
        if (others.length === 0) return ticket;
        if (performance.now() > until) throw busy(path, others[0]!);
        if (others.some((other) => other < ticket)) break;
        await waitLonger();
        if (performance.now() < marked + staleMs / MARKS) continue;
        // Where it was taken for left behind all the same, it queues up again.
        if (!(await markAlive(ticket))) break;
        marked = performance.now();
      }
      await rm(ticket, { force: true });
      done(ticket);
      await waitLonger();
    } catch (error) {
      await rm(ticket, { force: true }).catch(() => undefined);
      done(ticket);
      throw unwritable(path, error);
    }
  }
}

function growingPause(pause: (ms: number) => Promise<unknown>): () => Promise<void> {
  let next = LOOK_AGAIN_MS.first;
  return async () => {
    await pause(next);
    next = Math.min(2 * next, LOOK_AGAIN_MS.longest);
  };
}

/** Changes a file's time by the clock of whoever keeps it, and leaves it empty. @returns whether it is there */
async function markAlive(ticket: string): Promise<boolean> {
  const handle = await open(ticket, 'r+').catch((error) => {
    if (codeOf(error) === 'ENOENT') return null;
    throw error;
  });
  if (!handle) return false;
  try {
    await handle.write('.');
    await handle.truncate(0);
  } finally {
    await handle.close();
  }
  return true;
}

/** What others who live are writing there. */
async function othersOf(
  file: string,
  mine: string,
  list: (folder: string) => Promise<string[]>,
  staleBefore: () => number,
): Promise<string[]> {
  const folder = dirname(file);
  const names = await list(folder);
  await sweepAmong(folder, names);
  const others: string[] = [];
  for (const name of names) {
    const other = join(folder, name);
    if (other === mine || !isPartialOf(file, name)) continue;
    const info = await stat(other).catch(() => null);
    if (!info) continue;
    if (info.mtimeMs < staleBefore()) await rm(other, { force: true });
    else others.push(other);
  }
  return others;
}

async function isThere(ticket: string): Promise<boolean> {
  return (await stat(ticket).catch(() => null)) !== null;
}

function busy(path: string, other: string): Problem {
  return new Problem(
    'file-unwritable',
    `${path}: cannot be written: ${other} stands beside it, of a program that is writing it or was stopped while it did; where none is running, remove that file`,
  );
}
