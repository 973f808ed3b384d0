import { Cache } from '../store/cache.js';
import { EvidenceStore } from '../store/evidence-store.js';
import type { ColumnSource } from '../sweep/columns.js';
import { Alike, alike } from './alike.js';
import { Apart } from './apart.js';
import { type Kept, Recorder } from './recorder.js';
import { repairing } from './repairing.js';
import { Smoothing } from './smoothing.js';
import type { Frames, Track } from './track.js';

export interface PassOptions {
  cache: Cache;
  /** Told of frames read, of all that there are. */
  onProgress?: (done: number, total: number) => void;
  /** Threads beside this one; left out: as many as there are cores, where they are worth it. The same comes of any number. */
  threads?: number | undefined;
}

/**
 * Evidence of the same frames along any number of tracks. What the cache holds whole is not measured again; all the
 * rest is measured in one reading of the frames. It goes on from what an interrupted run had finished: from the earliest
 * frame that any track still lacks, each track from its own. A track with weather always starts anew, at the first frame:
 * gusts, drops and noise follow from the frames before, and no weather can be saved half way.
 *
 * Evidence is verified when columns are asked for. What is damaged then is removed, measured again by itself from the
 * first frame, and given as if nothing had been.
 *
 * @returns for each track, in their order, its evidence
 * @throws what reading the frames throws; what was finished till then is kept
 */
export async function measure(
  frames: Frames,
  tracks: readonly Track[],
  options: PassOptions,
): Promise<ColumnSource[]> {
  const kept = tracks.map((track) => ({ track, store: storeOf(track, frames, options.cache) }));
  await pass(frames, await missingOf(kept), options);
  return kept.map(({ track, store }) =>
    repairing(
      store,
      async () => {
        await store.remove();
        await pass(frames, [{ track, store }], options);
      },
      async () => {
        const held = storeOf(track, frames, Cache.inMemory());
        await pass(frames, [{ track, store: held }], options);
        return held;
      },
    ),
  );
}

/** Frames along which something is to be measured, their times, and what. */
export interface Measured {
  times: Float64Array;
  tracks: readonly Track[];
}

/**
 * As `measure` does, but along several selections of the frames of one recording, each at a size of its own, in one reading of
 * it: what the cache then lacks of none of them.
 * @param from gives, for each selection, its frames from a given one on, or none where that is null; in order for each of them,
 * and otherwise as they come
 */
export async function measureTogether(
  of: readonly Measured[],
  from: (first: readonly (number | null)[]) => AsyncIterable<{ look: number; y: Uint8Array }>,
  { cache, onProgress }: PassOptions,
): Promise<void> {
  const readings: (Reading | null)[] = [];
  for (const { times, tracks } of of) {
    const kept = tracks.map((track) => ({ track, store: storeOf(track, { times }, cache) }));
    const missing = await missingOf(kept);
    // Several readings at once keep all cores busy by decoding.
    readings.push(missing.length === 0 ? null : await Reading.resume(times, missing, 1));
  }
  if (readings.every((reading) => reading === null)) return;
  const total = of.reduce((sum, { times }, i) => sum + (readings[i] ? times.length : 0), 0);
  let done = readings.reduce((sum, reading) => sum + (reading?.frame ?? 0), 0);
  for await (const { look, y } of from(readings.map((reading) => reading?.frame ?? null))) {
    await readings[look]!.take(y);
    onProgress?.(++done, total);
  }
}

async function missingOf(kept: readonly Kept[]): Promise<Kept[]> {
  const missing: Kept[] = [];
  for (const one of kept) if (one.track.anew || !(await one.store.complete())) missing.push(one);
  return missing.every(({ track }) => track.alongside) ? [] : missing;
}

function storeOf({ key, floor }: Track, { times }: Pick<Frames, 'times'>, cache: Cache): EvidenceStore {
  return new EvidenceStore(cache, key, times.length, floor);
}

async function pass(frames: Frames, missing: readonly Kept[], options: PassOptions): Promise<void> {
  if (missing.length === 0) return;
  const reading = await Reading.resume(frames.times, missing, options.threads);
  try {
    for await (const y of frames.from(reading.frame)) {
      await reading.take(y);
      if (reading.isIdle) break;
      options.onProgress?.(reading.frame, frames.times.length);
    }
    await reading.finish();
  } finally {
    await reading.close();
  }
  const { left: without } = reading;
  const left = missing.filter(({ track }) => without.has(track));
  for (const { store } of left) await store.remove();
  await pass(frames, left, { ...options, threads: 1 });
}

/** Tracks that are measured along the same frames, as far as they have come. */
class Reading {
  private readonly smoothing = new Smoothing();

  private constructor(
    private readonly times: Float64Array,
    private readonly groups: readonly (Alike | Apart)[],
    /** The frame to be taken next. */
    public frame: number,
  ) {}

  static async resume(
    times: Float64Array,
    missing: readonly Kept[],
    threads: number | undefined,
  ): Promise<Reading> {
    const all = await Promise.all(missing.map(Recorder.resume));
    const asked = all.filter(({ track }) => !track.alongside);
    const first = Math.min(...(asked.length > 0 ? asked : all).map(({ next }) => next));
    // What only goes along is not gone back for.
    const recorders = all.filter(({ next }) => next >= first);
    const apart = await Apart.start(recorders, times.length, threads);
    const here = apart ? recorders.filter((recorder) => !apart.recorders.includes(recorder)) : recorders;
    const groups = alike(here).map((group) => new Alike(group));
    return new Reading(times, apart ? [...groups, apart] : groups, first);
  }

  /** Tracks that no thread is there for any more: they are to be measured from the first frame on by this one. */
  get left(): ReadonlySet<Track> {
    const left = this.groups.flatMap((group) =>
      group instanceof Apart && group.isOver ? group.recorders : [],
    );
    return new Set(left.map(({ track }) => track));
  }

  /** Whether nothing of the frames to come is wanted. */
  get isIdle(): boolean {
    return this.groups.every((group) => group instanceof Apart && group.isOver);
  }

  async take(y: Uint8Array): Promise<void> {
    const { groups, frame, smoothing } = this;
    const time = this.times[frame]!;
    smoothing.begin(y);
    // What is kept of one group is compressed and written while the next is measured.
    const ends = await Promise.allSettled(groups.map((group) => group.take(frame, y, time, smoothing)));
    for (const end of ends) if (end.status === 'rejected') throw end.reason;
    this.frame++;
  }

  /** To be called after the last frame. */
  async finish(): Promise<void> {
    for (const group of this.groups) if (group instanceof Apart) await group.finish();
  }

  async close(): Promise<void> {
    for (const group of this.groups) if (group instanceof Apart) await group.close();
  }
}
