import type { Labels } from '../score/labels.js';
import type { Cache } from '../store/cache.js';
import type { StillsSource } from './stills.js';
import type { VideoSource } from './video-source.js';

/** The part of a clip that depends on how its frames are stored. */
export interface Recording {
  source: StillsSource | VideoSource;
  /** Pixels, as stored. */
  width: number;
  height: number;
  /** Seconds, one for each frame, the first 0, strictly rising. */
  times: Float64Array;
  /** What the user should know about this recording, one line each. */
  warnings: string[];
  /** SHA-256, hexadecimal, of the frames' content in order. */
  contentKey: string;
  /** Video: which frames are key frames, rising. */
  keyFrames?: Uint32Array;
}

export interface OpenOptions {
  cache: Cache;
  onProgress?: (done: number, total: number) => void;
  /** Told, a line each, what is wrong with it that only reading its frames shows; `warnings` hold the rest. */
  onWarning?: (line: string) => void;
  signal?: AbortSignal;
  /** What the user does to give a rate, in words, where times do not do; left out: writes it into clip.json. */
  giveRate?: string;
  /** Used instead of the folder's labels.json. */
  labels?: Labels;
}
