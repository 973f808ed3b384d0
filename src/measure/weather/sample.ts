import type { Clip } from '../../clip/open.js';
import { touchesAny, union } from '../../score/stretches.js';
import { MEASURED_WIDTH } from '../../weather/motion.js';
import { luminanceFrames } from '../evidence.js';

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

/** The frames of a sample as luminance, read in one go; `first` where a run begins. */
export async function* sampledFrames(
  clip: Clip,
  size: { width: number; height: number },
  rate: number = clip.rate,
  signal?: AbortSignal,
): AsyncGenerator<{ y: Uint8Array; first: boolean }> {
  const runs = bursts(clip, rate);
  const starts = new Set(runs.map((run) => run[0]));
  const indices = runs.flat();
  let k = 0;
  for await (const y of luminanceFrames(clip, indices, size, signal))
    yield { y, first: starts.has(indices[k++]) };
}

/** The size at which a clip's motion is measured. */
export function measuredSize({ width, height }: Pick<Clip, 'width' | 'height'>): {
  width: number;
  height: number;
} {
  const measured = Math.min(MEASURED_WIDTH, width);
  return { width: measured, height: Math.max(1, Math.round((height * measured) / width)) };
}
