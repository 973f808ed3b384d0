import type { Camera } from '../camera/description.js';
import { keepsEvidence } from '../camera/keeps-evidence.js';
import { type Clip, luminanceFrames } from '../clip/open.js';
import { entryBefore } from '../clip/video-entry.js';
import { Differencer } from '../engine/pipeline.js';
import { memoryOf } from '../engine/reference.js';
import { analysedFrames } from './analysed.js';

/** A reference that fades has forgotten all but 2 % of the frame it starts with after so many of its time constants. */
const TIMES_TO_FORGET = 4;

/**
 * The analysed frames, by their places, from which the reference at one of them follows; that one first, then backwards.
 * @param times of the analysed frames, seconds
 */
export function remembered({ reference }: Camera, times: ArrayLike<number>, place: number): number[] {
  const memory = memoryOf(reference);
  const first = times[place]! - TIMES_TO_FORGET * memory.seconds;
  const places: number[] = [];
  for (let j = place; j >= 0 && j >= place - memory.frames && times[j]! >= first; j--) places.push(j);
  return places;
}

/** One analysed frame's difference from the reference. */
export interface DifferenceAt {
  /** Which analysed frame, from 0. */
  place: number;
  /** Seconds. */
  time: number;
  /** Grey levels at the analysis size; overwritten when the next is asked for. */
  difference: Uint8Array;
}

/**
 * The differences at some analysed frames, worked out from the few frames before each that its reference remembers.
 * @param places rising
 * @param mask at the analysis size, not 0 where not watched
 * @throws RangeError for a camera whose reference depends on its triggers
 */
export async function* differencesAt(
  clip: Clip,
  camera: Camera,
  places: readonly number[],
  mask: Uint8Array | null,
  signal?: AbortSignal,
): AsyncGenerator<DifferenceAt> {
  if (!keepsEvidence(camera)) throw new RangeError('the reference depends on the triggers');
  const { indices, times } = analysedFrames(clip, camera);
  const needed = new Set(places.flatMap((place) => remembered(camera, times, place)));
  const all = [...needed].sort((a, b) => a - b);
  const wanted = new Set(places);
  let differencer: Differencer | null = null;
  let last = -2;
  const { source, width, height, keyFrames } = clip;
  const entering = async (frame: number) =>
    source.kind === 'video' ? entryBefore({ source, width, height, keyFrames }, frame) : 0;
  for await (const stretch of readingsOf(clip, all, indices, entering)) {
    const stored = stretch.map((k) => indices[k]!);
    let next = 0;
    for await (const y of luminanceFrames(clip, stored, camera.analysis, signal)) {
      const place = stretch[next++]!;
      if (place !== last + 1 || !differencer) {
        differencer = new Differencer({ ...camera.analysis, reference: camera.reference, mask });
      }
      last = place;
      const difference = differencer.next(y, times[place]!);
      if (wanted.has(place)) yield { place, time: times[place]!, difference };
    }
  }
}

/** Pixels of a video that are decoded sooner than it is proved, and begun, at a key frame behind them. */
const SOONER_DECODED = 2e8;

/**
 * Analysed frames in as many readings as is quickest: a video is entered anew where much lies between two of them, and it may be.
 * @param places rising
 * @param indices of the stored frames that are analysed
 * @param entering gives the key frame at which it may be entered for a stored frame; 0: at its beginning alone
 */
export async function* readingsOf(
  { width, height, keyFrames = new Uint32Array() }: Pick<Clip, 'width' | 'height' | 'keyFrames'>,
  places: readonly number[],
  indices: ArrayLike<number>,
  entering: (frame: number) => Promise<number>,
): AsyncGenerator<number[]> {
  let reading: number[] = [];
  let mayEnter = true;
  for (const place of places) {
    const [before, stored] = [indices[reading.at(-1) ?? place]!, indices[place]!];
    const key = keyFrames.findLast((frame) => frame <= stored) ?? 0;
    if (mayEnter && (key - before) * width * height > SOONER_DECODED) {
      // Where it cannot be entered once it is not tried again and again.
      mayEnter = (await entering(stored)) > before;
      if (mayEnter) {
        yield reading;
        reading = [];
      }
    }
    reading.push(place);
  }
  if (reading.length > 0) yield reading;
}
