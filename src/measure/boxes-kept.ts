import type { Camera } from '../camera/description.js';
import { photosFor } from '../camera/timing.js';
import { type Clip, luminanceFrames } from '../clip/open.js';
import { Differencer } from '../engine/pipeline.js';
import { memoryOf } from '../engine/reference.js';
import { truthOf } from '../score/truth.js';
import type { Cache } from '../store/cache.js';
import { outcomesAt } from '../sweep/outcomes.js';
import type { Analysed } from './analysed.js';
import {
  BoxMeter,
  type BoxRows,
  boxesKey,
  boxRowsOf,
  keepBoxes,
  readBoxes,
  type WithinBoxes,
  withinBoxes,
} from './boxes.js';

/** What is to be measured within boxes for every trigger that a camera may fire at a clip's visits. */
export function boxRows(clip: Clip, camera: Camera, times: Float64Array): BoxRows | null {
  if (!clip.labels?.visits.some(({ type, box }) => type === 'animal' && box)) return null;
  const ofClip = known.get(clip) ?? new Map<Camera, BoxRows | null>();
  known.set(clip, ofClip);
  let rows = ofClip.get(camera);
  if (rows === undefined) {
    const truth = truthOf(clip.labels, clip.seconds);
    rows = boxRowsOf(
      outcomesAt(times, (time) => photosFor(camera, time), truth),
      truth,
      camera.area,
    );
    ofClip.set(camera, rows);
  }
  return rows;
}

const known = new WeakMap<Clip, Map<Camera, BoxRows | null>>();

/** Keeps what a meter has seen along with the rest; what it has not is taken from the cache, or from the frames. */
export async function boxesKept(
  clip: Clip,
  camera: Camera,
  mask: Uint8Array | null,
  evidence: string,
  rows: BoxRows,
  seen: BoxMeter,
  frames: Analysed,
  { cache, signal }: { cache: Cache; signal?: AbortSignal | undefined },
): Promise<WithinBoxes> {
  const key = boxesKey(evidence, rows);
  const { bytes } = seen;
  if (bytes) {
    await keepBoxes(cache, key, bytes);
    return withinBoxes(rows, async () => bytes);
  }
  return withinBoxes(rows, async () => {
    const known = await readBoxes(cache, key);
    if (known) return known;
    const read = await readWithin(clip, camera, mask, rows, seen.floor, frames, signal);
    await keepBoxes(cache, key, read);
    return read;
  });
}

/** Measures within boxes by themselves, from the frames that show them and those that their reference needs. */
async function readWithin(
  clip: Clip,
  camera: Camera,
  mask: Uint8Array | null,
  rows: BoxRows,
  floor: number,
  { indices, times }: Analysed,
  signal: AbortSignal | undefined,
): Promise<Uint8Array> {
  const { width, height } = camera.analysis;
  const needed = new Uint8Array(times.length);
  const before = memoryOf(camera.reference).frames;
  for (const frame of rows.frames) needed.fill(1, Math.max(0, frame - before), frame + 1);
  const places = Array.from(needed.keys()).filter((k) => needed[k] === 1);
  const meter = new BoxMeter(rows, width, height, floor, mask);
  const options = { ...camera.analysis, reference: camera.reference, mask: null };
  let differencer = new Differencer(options);
  let done = 0;
  const wanted = Uint32Array.from(places, (place) => indices[place]!);
  for await (const y of luminanceFrames(clip, wanted, camera.analysis, signal)) {
    const place = places[done]!;
    // After a gap the reference has no part in what comes: it is entered as many frames early as it looks back.
    if (done > 0 && places[done - 1] !== place - 1) differencer = new Differencer(options);
    done++;
    meter.take(place, differencer.next(y, times[place]!));
  }
  return meter.bytes as Uint8Array;
}
