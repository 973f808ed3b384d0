import type { Camera } from '../camera/description.js';
import { type Clip, frames, keyFramePulse } from '../clip/open.js';
import { luminance } from '../engine/luminance.js';
import { memoryOf } from '../engine/reference.js';
import { sampleFrames } from '../engine/sample.js';
import type { Cache } from '../store/cache.js';
import { keyOf } from '../store/key.js';
import type { ColumnSource } from '../sweep/columns.js';
import { type Frames, measure } from './pass.js';

/**
 * Raised whenever the engine gives other evidence for the same frames, so that evidence kept by an older engine is
 * made again and never mixed in.
 */
export const ENGINE_MEANING = 1;

export interface ReadingOptions {
  cache: Cache;
  onProgress?: (done: number, total: number) => void;
  /** Told what the evidence gives away about the recording itself. */
  onWarning?: (text: string) => void;
  signal?: AbortSignal;
}

/** A clip's evidence under a camera's fixed part, as kept on disk. */
export interface Evidence extends ColumnSource {
  /** Which of the clip's frames were analysed. */
  indices: Uint32Array;
  /** Their times, seconds. */
  times: Float64Array;
}

/** The frames of a clip that a camera analyses, with their times. */
export function analysedFrames(clip: Clip, camera: Camera): Pick<Evidence, 'indices' | 'times'> {
  const indices = sampleFrames(clip.times, clip.seconds, clip.rate, camera.analysis.rate);
  return { indices, times: Float64Array.from(indices, (i) => clip.times[i]!) };
}

/**
 * Evidence of a clip as it was recorded, for every level from `floor` up. Taken from the cache where it is whole; what is
 * missing is made from the frames, going on from the last chunk that an interrupted run had finished.
 */
export async function evidenceOf(
  clip: Clip,
  camera: Camera,
  mask: Uint8Array | null,
  floor: number,
  options: ReadingOptions,
): Promise<Evidence> {
  const [evidence] = (await evidenceUnder(clip, camera, [mask], floor, options)) as [Evidence];
  const { indices } = evidence;
  if (options.onWarning && clip.keyFrames) {
    const changed = (await evidence.columns([floor], 'changed')).get(floor) as Uint32Array;
    const pulse = keyFramePulse(clip, changed, indices);
    if (pulse) options.onWarning(pulse);
  }
  return evidence;
}

/** The same under each of several masks, in their order: all that is missing is made in one reading. */
export async function evidenceUnder(
  clip: Clip,
  camera: Camera,
  masks: readonly (Uint8Array | null)[],
  floor: number,
  options: ReadingOptions,
): Promise<Evidence[]> {
  const { indices, times } = analysedFrames(clip, camera);
  const tracks = masks.map((mask) => ({
    key: evidenceKey(clip, camera, mask, floor, indices, times),
    differencer: { ...camera.analysis, reference: camera.reference, mask },
    floor,
  }));
  const kept = await measure(framesOf(clip, camera, indices, times, options), tracks, options);
  return kept.map((columns) => ({ indices, times, ...columns }));
}

/** Some frames of a clip, as they are measured. */
export function framesOf(
  clip: Clip,
  camera: Camera,
  indices: Uint32Array,
  times: Float64Array,
  { signal }: Pick<ReadingOptions, 'signal'>,
): Frames {
  return {
    times,
    from: (first) => luminanceFrames(clip, indices.subarray(first), camera.analysis, signal),
  };
}

/** Frames of a clip as luminance at some size (a camera's analysis size, say); the same array every time. */
export async function* luminanceFrames(
  clip: Pick<Clip, 'source' | 'width' | 'height'>,
  indices: ArrayLike<number>,
  { width, height }: { width: number; height: number },
  signal?: AbortSignal,
): AsyncGenerator<Uint8Array> {
  const y = new Uint8Array(width * height);
  const reading = { minWidth: width, minHeight: height, ...(signal && { signal }) };
  for await (const frame of frames(clip, indices, reading)) {
    yield luminance(frame.pixels, frame.channels, frame.width, frame.height, width, height, y);
  }
}

function evidenceKey(
  clip: Clip,
  camera: Camera,
  mask: Uint8Array | null,
  floor: number,
  indices: Uint32Array,
  times: Float64Array,
): string {
  const { width, height, smooth } = camera.analysis;
  const { whileBusy: _, ...reference } = camera.reference;
  return keyOf(
    [ENGINE_MEANING, clip.contentKey, width, height, smooth, reference, floor],
    indices,
    memoryOf(reference).timed ? times : null,
    mask,
  );
}
