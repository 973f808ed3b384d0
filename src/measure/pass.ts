import { EvidenceMeter } from '../engine/evidence.js';
import { Differencer, type DifferencerOptions } from '../engine/pipeline.js';
import { Cache } from '../store/cache.js';
import { DamagedEvidence, EvidenceStore } from '../store/evidence-store.js';
import type { ColumnSource } from '../sweep/columns.js';
import type { Weather } from '../weather/weather.js';

/** Frames to be measured, in order. */
export interface Frames {
  /** Seconds from the clip's start; one for each frame. */
  times: Float64Array;
  /** Luminance of one frame after the other, from one of them on; each may overwrite the one before. */
  from(first: number): AsyncIterable<Uint8Array> | Iterable<Uint8Array>;
}

/** One way of looking at the frames, and where its evidence is kept. */
export interface Track {
  /** Names the evidence in the cache: all that it depends on is part of it, the frames and their times included. */
  key: string;
  /** Of the size of the frames. */
  differencer: DifferencerOptions;
  /** The lowest level of which evidence is kept. */
  floor: number;
  /** Weather put onto each frame before it is measured, made anew for each pass; left out: frames as they are. */
  weather?: () => Weather;
  /** Told of each frame's difference, in order, while the track is measured; it is the same array every time. */
  watch?: (frame: number, difference: Uint8Array) => void;
  /** Measure it from the first frame on even where the cache holds it whole, for `watch` must see it all. */
  anew?: boolean;
}

export interface PassOptions {
  cache: Cache;
  /** Told of frames read, of all that there are. */
  onProgress?: (done: number, total: number) => void;
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
  const missing: Kept[] = [];
  for (const one of kept) if (one.track.anew || !(await one.store.complete())) missing.push(one);
  await pass(frames, missing, options);
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

function storeOf({ key, floor }: Track, frames: Frames, cache: Cache): EvidenceStore {
  return new EvidenceStore(cache, key, frames.times.length, floor);
}

interface Kept {
  track: Track;
  store: EvidenceStore;
}

async function pass(frames: Frames, missing: readonly Kept[], options: PassOptions): Promise<void> {
  if (missing.length === 0) return;
  const recorders = await Promise.all(missing.map(Recorder.resume));
  let frame = Math.min(...recorders.map((recorder) => recorder.next));
  for await (const y of frames.from(frame)) {
    const time = frames.times[frame]!;
    for (const recorder of recorders) if (recorder.next === frame) await recorder.take(y, time);
    frame++;
    options.onProgress?.(frame, frames.times.length);
  }
}

/** How often one track's evidence is made again on disk before it is held in memory. */
const MOST_REPAIRS = 1;

/** Measures one track and keeps what it finds. */
class Recorder {
  private readonly weather: Weather | null;
  private readonly differencer: Differencer;
  private readonly meter: EvidenceMeter;
  private readonly watch: Track['watch'];
  /** The frame to be taken next. */
  next = 0;

  private constructor(
    { differencer, floor, weather, watch }: Track,
    private readonly store: EvidenceStore,
  ) {
    this.watch = watch;
    this.weather = weather?.() ?? null;
    this.differencer = new Differencer(differencer);
    this.meter = new EvidenceMeter(differencer.width, differencer.height, floor);
  }

  static async resume({ track, store }: Kept): Promise<Recorder> {
    const recorder = new Recorder(track, store);
    const point = track.weather || track.anew ? null : await store.resumePoint();
    if (point) {
      recorder.differencer.load(point.state);
      recorder.next = point.frame;
    }
    return recorder;
  }

  async take(y: Uint8Array, time: number): Promise<void> {
    const seen = this.weather ? this.weather.apply(y, time) : y;
    const difference = this.differencer.next(seen, time);
    this.watch?.(this.next, difference);
    await this.store.append(this.meter.measure(difference));
    if (!this.weather) await this.store.checkpoint(() => this.differencer.save());
    this.next++;
  }
}

/**
 * Evidence that is measured again when it is found damaged; where even that does not last, for somebody keeps emptying the
 * cache, it is held in memory. Callers that meet the same damage at once wait for one repair.
 * @param again measures the track from nothing
 * @param hold the same, in memory
 */
function repairing(
  kept: EvidenceStore,
  again: () => Promise<void>,
  hold: () => Promise<EvidenceStore>,
): ColumnSource {
  let store = kept;
  let repairs = 0;
  let repair: Promise<void> | null = null;
  const mend = async () => {
    repairs++;
    if (repairs <= MOST_REPAIRS) await again();
    else store = await hold();
  };
  const repaired = async <T>(read: (from: EvidenceStore) => Promise<T>): Promise<T> => {
    try {
      return await read(store);
    } catch (error) {
      if (!(error instanceof DamagedEvidence)) throw error;
      repair ??= mend().finally(() => {
        repair = null;
      });
      await repair;
      return repaired(read);
    }
  };
  return {
    columns: (levels, kind) => repaired((from) => from.columns(levels, kind)),
    bothColumns: (levels) => repaired((from) => from.bothColumns(levels)),
  };
}
