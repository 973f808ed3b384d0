import { meterForMany } from '../engine/compiled/meter.js';
import type { EvidenceMeter, LevelWatch, PaddedMask } from '../engine/evidence.js';
import { Differencer, type DifferencerOptions } from '../engine/pipeline.js';
import { smooth } from '../engine/smooth.js';
import { Cache } from '../store/cache.js';
import { DamagedEvidence, type EvidenceRow, EvidenceStore } from '../store/evidence-store.js';
import type { ColumnSource } from '../sweep/columns.js';
import type { Weather } from '../weather/weather.js';
import { ThreadEnded, WeatherThreads } from './threads.js';
import type { WeatherTrack } from './weather-track.js';

/** Frames to be measured, in order. */
export interface Frames {
  /** Seconds from the clip's start; one for each frame. */
  times: Float64Array;
  /** Luminance of one frame after the other, from one of them on; each may overwrite the one before. */
  from(first: number): AsyncIterable<Uint8Array> | Iterable<Uint8Array>;
}

/** A frame while it is measured, before the reference takes it in. Its arrays are overwritten with the next. */
export interface Moment {
  frame: number;
  /** Seconds. */
  time: number;
  /** Luminance as it was read. */
  given: Uint8Array;
  /** Smoothed luminance, with the track's weather. */
  seen: Uint8Array;
  /** What is masked is shown as well. */
  difference: Uint8Array;
  /** Of what the track's mask leaves. */
  evidence: EvidenceRow;
  /** A copy of what the frame is compared with, grey levels. */
  compared(): Uint8Array | Float32Array;
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
  /**
   * The same weather, and what `watch` asks for, as a thread of its own can be told of it; used in their place where that is
   * worth it. What was measured within boxes is given to `keepBoxes` when all frames are measured.
   */
  apart?: WeatherTrack & { keepBoxes: (bytes: Uint8Array | null) => void };
  /** Told of each frame, in order, while the track is measured. */
  watch?: (moment: Moment) => Promise<void> | void;
  /** Told of what is connected in each frame, before `watch` is. */
  pieces?: LevelWatch;
  /** Measure it from the first frame on even where the cache holds it whole, for `watch` must see it all. */
  anew?: boolean;
  /** Measure it only where another has to be measured: it may be wanted later, and then costs no reading of its own. */
  alongside?: boolean;
}

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

interface Kept {
  track: Track;
  store: EvidenceStore;
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

/** A frame smoothed once for all that see it smoothed alike. */
class Smoothing {
  private readonly smoothed = new Map<number, { y: Uint8Array; isDone: boolean }>();
  private y: Uint8Array = new Uint8Array();

  begin(y: Uint8Array): void {
    this.y = y;
    for (const one of this.smoothed.values()) one.isDone = false;
  }

  /** Overwritten with the next frame. */
  by({ width, height, smooth: radius }: DifferencerOptions): Uint8Array {
    if (radius === 0) return this.y;
    const kept = this.smoothed.get(radius) ?? { y: new Uint8Array(width * height), isDone: false };
    this.smoothed.set(radius, kept);
    if (!kept.isDone) smooth(this.y, width, height, radius, kept.y);
    kept.isDone = true;
    return kept.y;
  }
}

/** Recorders by all that their differences depend on but masks; weather makes frames of its own. */
function alike(recorders: readonly Recorder[]): Recorder[][] {
  const groups = new Map<string | Recorder, Recorder[]>();
  for (const recorder of recorders) {
    const { weather, differencer, floor } = recorder.track;
    const key = weather ? recorder : JSON.stringify([{ ...differencer, mask: null }, floor]);
    groups.set(key, [...(groups.get(key) ?? []), recorder]);
  }
  return [...groups.values()];
}

/**
 * Measures tracks that differ by their masks only, side by side: frames are smoothed, compared and sorted once, and what is done
 * again for each mask is only to join what it leaves.
 */
class Alike {
  private readonly weather: Weather | null;
  private readonly options: DifferencerOptions;
  private readonly differencer: Differencer;
  private readonly meter: EvidenceMeter;
  private readonly members: { recorder: Recorder; mask: PaddedMask | null }[];
  private next: number;

  constructor(recorders: readonly Recorder[]) {
    const first = recorders.reduce((a, b) => (b.next < a.next ? b : a));
    const { weather, differencer, floor } = first.track;
    this.weather = weather?.() ?? null;
    this.options = { ...differencer, mask: null };
    this.differencer = new Differencer(this.options);
    this.next = first.next;
    // No reference depends on a mask, so that the state kept by any of them serves all.
    if (first.state) this.differencer.load(first.state);
    const watch = recorders.find(({ track }) => track.pieces)?.track.pieces;
    const meter = meterForMany(differencer.width, differencer.height, floor, watch);
    this.meter = meter;
    this.members = recorders.map((recorder) => {
      const { mask } = recorder.track.differencer;
      return { recorder, mask: mask && meter.maskFor(mask) };
    });
  }

  /** @param smoothing of the frame without weather */
  async take(frame: number, y: Uint8Array, time: number, smoothing: Smoothing): Promise<void> {
    if (frame !== this.next) return;
    this.next++;
    const { weather, differencer, meter, options } = this;
    const difference = weather
      ? differencer.differ(weather.apply(y, time), time)
      : differencer.differ(y, time, smoothing.by(options));
    meter.take(difference);
    const { seen } = differencer;
    const about = { frame, time, given: y, seen, difference, compared: () => differencer.compared() };
    const taking = this.members.filter(({ recorder }) => recorder.next === frame);
    for (const { recorder, mask } of taking) {
      const { pieces } = recorder.track;
      const evidence = mask ? meter.areasUnder(mask, pieces) : meter.areas(pieces);
      await recorder.take({ ...about, evidence });
    }
    differencer.advance(time);
    for (const { recorder } of taking) await recorder.checkpoint(() => differencer.save());
  }
}

/** Tracks that are measured on other threads. */
class Apart {
  /** Whether one of the threads was ended: what they have not measured is none of theirs any more. */
  isOver = false;

  private constructor(
    readonly recorders: readonly Recorder[],
    private readonly threads: WeatherThreads,
  ) {}

  /** @returns null where all are better measured on this thread */
  static async start(
    recorders: readonly Recorder[],
    frames: number,
    most: number | undefined,
  ): Promise<Apart | null> {
    const apart = recorders.filter(({ track }) => track.apart);
    const tracks = apart.map(({ track: { apart: told } }): WeatherTrack => {
      const { keepBoxes: _, ...plain } = told!;
      return plain;
    });
    const takeUp = (track: number, row: EvidenceRow) => apart[track]!.keep(row);
    const threads = await WeatherThreads.start(tracks, frames, takeUp, most);
    return threads && new Apart(apart, threads);
  }

  async take(frame: number, y: Uint8Array, time: number): Promise<void> {
    if (!this.isOver) await this.#unlessEnded(() => this.threads.take(frame, y, time));
  }

  async finish(): Promise<void> {
    if (this.isOver) return;
    await this.#unlessEnded(async () => {
      const boxes = await this.threads.finish();
      this.recorders.forEach(({ track }, i) => {
        track.apart?.keepBoxes(boxes[i] ?? null);
      });
    });
  }

  async #unlessEnded(act: () => Promise<void>): Promise<void> {
    try {
      await act();
    } catch (error) {
      if (!(error instanceof ThreadEnded)) throw error;
      this.isOver = true;
      // At once, for what they hold may be what there is too little of.
      await this.close();
    }
  }

  close(): Promise<void> {
    return this.threads.close();
  }
}

/** How often one track's evidence is made again on disk before it is held in memory. */
const MOST_REPAIRS = 1;

/** Keeps what is measured along one track. */
class Recorder {
  private constructor(
    readonly track: Track,
    private readonly store: EvidenceStore,
    /** The frame to be taken next. */
    public next: number,
    /** That of the differencer before it; null at the first frame. */
    readonly state: Uint8Array | null,
  ) {}

  static async resume({ track, store }: Kept): Promise<Recorder> {
    const point = track.weather || track.anew ? null : await store.resumePoint();
    return new Recorder(track, store, point?.frame ?? 0, point?.state ?? null);
  }

  async take(moment: Moment): Promise<void> {
    await this.track.watch?.(moment);
    await this.keep(moment.evidence);
  }

  async keep(evidence: EvidenceRow): Promise<void> {
    await this.store.append(evidence);
    this.next++;
  }

  /** @param state of the differencer, once it has taken the frame in */
  async checkpoint(state: () => Uint8Array): Promise<void> {
    if (!this.track.weather) await this.store.checkpoint(state);
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
