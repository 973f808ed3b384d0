import type { Range } from '../engine/luminance.js';
import type { Cache } from '../store/cache.js';
import type { Probe } from './probe.js';

/** One video file, and how its pixels are brought out. */
export interface VideoSource {
  kind: 'video';
  file: string;
  /** Frames that decode. */
  frames: number;
  /** Their presentation times as stored, seconds; NaN for a frame without one. */
  stamps: Float64Array;
  /** What is measured: luma where that is stored, colour otherwise. */
  pixelFormat: 'gray' | 'rgb24';
  /** The stored range: limited is 16..235 for luma. */
  range: Range;
  /** Where to note that other frames decode than its packets promise, and whom to tell of damage met in them; null where all were counted by decoding them. */
  promise: { cache: Cache; contentKey: string; onDamage: (line: string) => void } | null;
}

/**
 * Chooses how to bring out a video's pixels. Of YUV the luma plane as it is stored counts, whatever its matrix: it is what a
 * camera compares.
 */
export function videoSource(file: string, probe: Probe, promise: VideoSource['promise']): VideoSource {
  const grey = /^(gray|ya)(\d|f|$)/.test(probe.pixelFormat);
  const yuv = /^(yuv|nv|uyvy|yuyv|yvyu|p0|p2|p4|y2)/.test(probe.pixelFormat);
  // Untagged grey, RGB and the old yuvj formats are full range by definition; untagged YUV is limited.
  const untagged = yuv && !probe.pixelFormat.startsWith('yuvj') ? 'limited' : 'full';
  const tagged = probe.range === 'tv' ? 'limited' : probe.range === 'pc' ? 'full' : untagged;
  return {
    kind: 'video',
    file,
    frames: probe.times.length,
    stamps: probe.times,
    pixelFormat: grey || yuv ? 'gray' : 'rgb24',
    range: grey || yuv ? tagged : 'full',
    promise,
  };
}
