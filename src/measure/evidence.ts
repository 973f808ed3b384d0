import { createHash } from 'node:crypto';
import type { Camera } from '../camera/description.js';
import { type Clip, frames, keyFramePulse } from '../clip/open.js';
import { EvidenceMeter } from '../engine/evidence.js';
import { luminance } from '../engine/luminance.js';
import { Differencer } from '../engine/pipeline.js';
import { memoryOf } from '../engine/reference.js';
import { sampleFrames } from '../engine/sample.js';
import type { Cache } from '../store/cache.js';
import { DamagedEvidence, EvidenceStore } from '../store/evidence-store.js';

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
export interface Evidence {
  /** Which of the clip's frames were analysed. */
  indices: Uint32Array;
  /** Their times, seconds. */
  times: Float64Array;
  /** One value for each analysed frame, for each level asked for. */
  columns(levels: readonly number[], kind: 'region' | 'changed'): Promise<Map<number, Uint32Array>>;
}

/** The frames of a clip that a camera analyses, with their times. */
export function analysedFrames(clip: Clip, camera: Camera): Pick<Evidence, 'indices' | 'times'> {
  const indices = sampleFrames(clip.times, clip.seconds, clip.rate, camera.analysis.rate);
  return { indices, times: Float64Array.from(indices, (i) => clip.times[i]!) };
}

/**
 * Evidence of a clip for every level from `floor` up. Taken from the cache where it is whole; what is missing is made
 * from the frames, going on from the last chunk that an interrupted run had finished.
 */
export async function evidenceOf(
  clip: Clip,
  camera: Camera,
  mask: Uint8Array | null,
  floor: number,
  options: ReadingOptions,
): Promise<Evidence> {
  const { indices, times } = analysedFrames(clip, camera);
  const key = evidenceKey(clip, camera, mask, floor, indices, times);
  const open = () => new EvidenceStore(options.cache, key, indices.length, floor);
  let store = open();
  if (!(await store.complete())) await fill(store);

  const evidence: Evidence = {
    indices,
    times,
    async columns(levels, kind) {
      try {
        return await store.columns(levels, kind);
      } catch (error) {
        if (!(error instanceof DamagedEvidence)) throw error;
        await store.remove();
        store = open();
        await fill(store);
        return store.columns(levels, kind);
      }
    },
  };
  if (options.onWarning && clip.keyFrames) {
    const changed = (await evidence.columns([floor], 'changed')).get(floor) as Uint32Array;
    const pulse = keyFramePulse(clip, changed, indices);
    if (pulse) options.onWarning(pulse);
  }
  return evidence;

  async function fill(into: EvidenceStore): Promise<void> {
    const { width, height } = camera.analysis;
    const differencer = new Differencer({ ...camera.analysis, reference: camera.reference, mask });
    const meter = new EvidenceMeter(width, height, floor);
    const resume = await into.resumePoint();
    if (resume) differencer.load(resume.state);
    let done = resume?.frame ?? 0;
    for await (const y of luminanceFrames(clip, indices.subarray(done), camera.analysis, options.signal)) {
      const difference = differencer.next(y, times[done]!);
      await into.append(meter.measure(difference));
      await into.checkpoint(() => differencer.save());
      done++;
      options.onProgress?.(done, indices.length);
    }
  }
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
  const hash = createHash('sha256');
  hash.update(JSON.stringify([ENGINE_MEANING, clip.contentKey, width, height, smooth, reference, floor]));
  hash.update(indices);
  if (memoryOf(reference).timed) hash.update(times);
  hash.update(mask ?? 'no mask');
  return hash.digest('hex');
}
