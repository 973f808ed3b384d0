import type { MemoryShape } from './thread-memory.js';
import type { WeatherTrack } from './weather-track.js';

/** What a thread is told when it is started. */
export interface Told {
  shape: MemoryShape;
  /** Those that it measures, each with its place among all. */
  tracks: readonly { track: WeatherTrack; place: number }[];
}

/** A load of frames to be measured, in order; or that there are no more. */
export type Asked = { load: number; first: number; times: readonly number[] } | 'end';

/** 'ready' once, 'done' for each load, and at the end what was measured within boxes, track by track. */
export type Answer = 'ready' | 'done' | { boxes: readonly (Uint8Array | null)[] };
