import type { LevelWatch } from '../engine/evidence.js';
import type { DifferencerOptions } from '../engine/pipeline.js';
import type { EvidenceRow } from '../store/evidence-store.js';
import type { Weather } from '../weather/weather.js';
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
