import { access, constants } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { unwritable } from '../files/faults.js';
import { makeFolders } from '../files/folder.js';
import { begin, partialIn, sweep } from '../files/partial.js';
import { Cache } from '../store/cache.js';
import { isWeighingDue, keepWithin, limitOf } from '../store/limit.js';

/** How a job talks to its caller while it runs. Everything may be left out: then it is silent and cannot be stopped. */
export interface Ports {
  /** What is kept between runs; left out: $PERCHMARK_CACHE, else ~/.cache/perchmark. */
  cache?: Cache;
  /** Told what begins; what is done of it is counted anew. */
  onPhase?: (what: string) => void;
  /** Told how much of the present phase is done, and of a long one what it is at, in plain words. */
  onProgress?: (done: number, total: number, at?: string) => void;
  /** Told what the user should know, a line each. */
  onWarning?: (line: string) => void;
  /** Aborted: the job stops and throws the signal's reason; what was finished is kept. */
  signal?: AbortSignal;
  /** Threads on which weather is put onto frames, at most; left out: one a core. Results are the same with any number. */
  threads?: number;
}

/** Ports with nothing left out but the signal and the number of threads. */
export type OpenPorts = Required<Omit<Ports, 'signal' | 'threads'>> & Pick<Ports, 'signal' | 'threads'>;

/** The ports given, each that was left out doing nothing, and the cache opened. */
export async function openPorts(ports: Ports = {}): Promise<OpenPorts> {
  const { onPhase = nothing, onProgress = nothing, onWarning = nothing, signal, threads } = ports;
  const cache = ports.cache ?? (await openCache(onWarning));
  return {
    cache,
    onPhase,
    onProgress,
    onWarning,
    ...(signal && { signal }),
    ...(threads !== undefined && { threads }),
  };
}

function nothing(): void {}

/** Ports through which a phase that begins with the name of a clip also tells which of them it is: clip 3 of 6. */
export function tellingPlaces<P extends Pick<OpenPorts, 'onPhase'>>(ports: P, clips: readonly string[]): P {
  if (clips.length < 2) return ports;
  const onPhase = (what: string) => {
    const place = clips.findIndex((clip) => what.startsWith(`${clip}: `));
    ports.onPhase(place < 0 ? what : `clip ${place + 1} of ${clips.length}, ${what}`);
  };
  return { ...ports, onPhase };
}

/**
 * The cache; where it cannot be written, a temporary one that lasts for this run and reads what is in the other, with a note saying so.
 */
export async function openCache(onWarning: (line: string) => void): Promise<Cache> {
  const cache = new Cache(undefined, onWarning);
  try {
    await prepare(cache);
    return cache;
  } catch {
    onWarning(
      `${cache.root}: cannot be written, so what is kept there is read, if it can be, and nothing is kept for the next run; set PERCHMARK_CACHE to another folder`,
    );
    await sweep(tmpdir());
    const folder = partialIn(tmpdir(), 'perchmark');
    begin(folder);
    return new Cache(folder, onWarning, cache.root);
  }
}

/**
 * The cache where what cannot be written, then or later, is a fault: in a folder that several machines share it would be no use to
 * the others.
 * @param root undefined: where it usually is
 * @throws Problem 'file-unwritable'
 */
export async function openLastingCache(
  root: string | undefined,
  onWarning: (line: string) => void,
): Promise<Cache> {
  const cache = new Cache(root, onWarning);
  await prepare(cache).catch((error) => {
    throw unwritable(cache.root, error);
  });
  cache.mustKeep = true;
  return cache;
}

async function prepare(cache: Cache): Promise<void> {
  await makeFolders(cache.root);
  await access(cache.root, constants.W_OK);
  await cache.sweep();
  const makeRoom = async () => keepWithin(cache, await limitOf(cache));
  cache.makeRoom = makeRoom;
  if (await isWeighingDue(cache)) await makeRoom();
}
