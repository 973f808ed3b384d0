import { type Clip, luminanceFrames } from '../../clip/open.js';
import { luminance } from '../../engine/luminance.js';
import { touchesAny, union } from '../../score/stretches.js';
import { MEASURED_RATE } from '../../weather/estimate.js';
import { MEASURED_WIDTH } from '../../weather/foliage/motion.js';
import { holdPassing, letGo, passedFrames } from './passed.js';
import { seenAs } from './seen-as.js';

const BURSTS = 8;
const IN_A_BURST = 8;

/** A video is read from its start to the last frame asked for, so its sample comes from its first ten minutes. */
const VIDEO_SECONDS = 600;

/**
 * A sample of a clip: short runs of frames spread over it, away from visits and ignored time as far as there is other
 * time.
 * @param rate frames per second within a run, as near as whole steps allow
 */
export function bursts(
  clip: Pick<Clip, 'times' | 'rate' | 'labels' | 'source'>,
  rate: number = clip.rate,
): number[][] {
  const step = Math.max(1, Math.round(clip.rate / rate));
  const span = (IN_A_BURST - 1) * step + 1;
  const beyond = clip.source.kind === 'video' ? clip.times.findIndex((t) => t > VIDEO_SECONDS) : -1;
  const frames = beyond < 0 ? clip.times.length : beyond;
  const last = frames - span;
  if (last <= 0) {
    return [Array.from({ length: Math.ceil(frames / step) }, (_, i) => i * step)];
  }
  const busy = union([...(clip.labels?.visits ?? []), ...(clip.labels?.ignored ?? [])]);
  const timeOf = (i: number) => clip.times[i]!;
  const quiet: number[] = [];
  for (let i = 0; i <= last; i += span) {
    if (!touchesAny(busy, { start: timeOf(i), end: timeOf(i + span - 1) })) quiet.push(i);
  }
  const starts =
    quiet.length > 0 ? quiet : Array.from({ length: Math.floor(last / span) + 1 }, (_, i) => i * span);
  const count = Math.min(BURSTS, starts.length);
  return Array.from({ length: count }, (_, n) => {
    const start = starts[Math.floor(((n + 0.5) * starts.length) / count)]!;
    return Array.from({ length: IN_A_BURST }, (_, i) => start + i * step);
  });
}

/** Motion and foliage are looked for at no more than this width: leaves need no finer one. */
const SAMPLE_WIDTH = 320;

/** A sample of a clip's frames as luminance. */
export interface ClipSample {
  width: number;
  height: number;
  /** Runs of frames that follow one another, `width * height` bytes each, with their times in seconds. */
  runs: readonly (readonly { y: Uint8Array; time: number }[])[];
  /** Frames per second within a run. */
  rate: number;
}

/** Kept by clip: foliage, wind and sway are all measured on the one reading. */
const kept = new WeakMap<Clip, Promise<ClipSample>>();

/** Something that looks at the frames of a sample while they are read. */
export interface Along {
  width: number;
  height: number;
  /** @param y luminance, `width * height` bytes; `first` where a run begins */
  see: (y: Uint8Array, first: boolean) => void;
  /** Called when all are read. */
  done: () => Promise<unknown>;
}

/**
 * The sample on which a clip's foliage, wind and sway are measured: read once, some five frames a second within a run.
 * @param along what else is measured in the same reading, on frames that follow one another directly: if there is a reading,
 *   no frame of a run is skipped and its frames are large enough
 */
export function sampleOf(clip: Clip, signal?: AbortSignal, along?: Along): Promise<ClipSample> {
  const seen = seenAs(clip);
  const known = kept.get(seen);
  if (known) return known;
  const reading = read(seen, signal, along);
  kept.set(seen, reading);
  reading.catch(() => kept.delete(seen));
  return reading;
}

async function read(clip: Clip, signal?: AbortSignal, along?: Along): Promise<ClipSample> {
  const width = Math.min(SAMPLE_WIDTH, clip.width);
  const height = Math.max(1, Math.round((clip.height * width) / clip.width));
  const step = Math.max(1, Math.round(clip.rate / MEASURED_RATE));
  const fits = along && step === 1 && along.width >= width && along.height >= height;
  const other = fits ? along : undefined;
  const size = other ?? { width, height };
  const runs: { y: Uint8Array; time: number }[][] = [];
  for await (const { y, time, first } of sampledFrames(clip, size, MEASURED_RATE, signal)) {
    other?.see(y, first);
    if (first) runs.push([]);
    runs.at(-1)!.push({ y: luminance(y, 1, size.width, size.height, width, height), time });
  }
  await other?.done();
  letGo(clip);
  return { width, height, runs, rate: clip.rate / step };
}

/**
 * Keeps what a clip's sample will be made of while the clip is read for something else at some size; null where the sample is known.
 * @returns to be given every frame of that reading, by its index in the clip
 */
export function samplePassing(
  clip: Clip,
  { width, height }: { width: number; height: number },
): ((index: number, y: Uint8Array) => void) | null {
  return kept.has(seenAs(clip))
    ? null
    : holdPassing(clip, { width, height }, bursts(clip, MEASURED_RATE).flat());
}

/** The frames of a sample as luminance, read in one go, with their times in seconds; `first` where a run begins. */
export async function* sampledFrames(
  clip: Clip,
  size: { width: number; height: number },
  rate: number = clip.rate,
  signal?: AbortSignal,
): AsyncGenerator<{ y: Uint8Array; time: number; first: boolean }> {
  const runs = bursts(clip, rate);
  const starts = new Set(runs.map((run) => run[0]));
  const indices = runs.flat();
  let k = 0;
  const held = passedFrames(clip, size, indices);
  for await (const y of held ?? luminanceFrames(clip, indices, size, signal)) {
    const index = indices[k++]!;
    yield { y, time: clip.times[index]!, first: starts.has(index) };
  }
}

/** The size at which a clip's motion is measured. */
export function measuredSize({ width, height }: Pick<Clip, 'width' | 'height'>): {
  width: number;
  height: number;
} {
  const measured = Math.min(MEASURED_WIDTH, width);
  return { width: measured, height: Math.max(1, Math.round((height * measured) / width)) };
}
