import type { Camera } from '../../camera/description.js';
import type { Clip } from '../../clip/open.js';
import { keyOf } from '../../store/key.js';
import type { ColumnSource } from '../../sweep/columns.js';
import type { Assumed, Setup } from '../../weather/setup.js';
import { createWeather } from '../../weather/weather.js';
import { analysedFrames, ENGINE_MEANING, framesOf, type ReadingOptions } from '../evidence.js';
import { measure } from '../pass.js';

/** Raised whenever the same weather is put onto the same frames differently. */
const WEATHER_MEANING = 1;

/** Some of a clip's analysed frames, one after the other. */
export interface Sample {
  /** The first of them, among the analysed frames. */
  from: number;
  /** Seconds from the clip's start. */
  times: Float64Array;
}

export interface SimulatedEvidence extends ColumnSource {
  assumed: readonly Assumed[];
}

/**
 * Evidence of a sample of a clip in each of several kinds of weather, for every level from `floor` up. All that the cache
 * does not hold is made in one reading of the sample.
 * @param setups of the camera's analysis size
 * @returns in the order of the setups
 */
export async function simulatedEvidenceOf(
  clip: Clip,
  camera: Camera,
  mask: Uint8Array | null,
  floor: number,
  sample: Sample,
  setups: readonly Setup[],
  options: ReadingOptions,
): Promise<SimulatedEvidence[]> {
  const { from, times } = sample;
  const indices = analysedFrames(clip, camera).indices.subarray(from, from + times.length);
  const assumed = setups.map((setup) => createWeather(setup).assumed);
  const tracks = setups.map((setup, i) => ({
    key: simulatedKey(clip, camera, setup, assumed[i]!, sample, mask, floor),
    differencer: { ...camera.analysis, reference: camera.reference, mask },
    floor,
    weather: () => createWeather(setup),
  }));
  const kept = await measure(framesOf(clip, camera, indices, times, options), tracks, options);
  return kept.map((evidence, i) => ({ ...evidence, assumed: assumed[i]! }));
}

function simulatedKey(
  clip: Clip,
  camera: Camera,
  setup: Setup,
  assumed: readonly Assumed[],
  { from, times }: Sample,
  mask: Uint8Array | null,
  floor: number,
): string {
  const { foliage, ...rest } = setup;
  const { whileBusy: _, ...reference } = camera.reference;
  return keyOf(
    [ENGINE_MEANING, WEATHER_MEANING, clip.contentKey, camera.analysis, reference, floor],
    [from, rest, assumed],
    foliage,
    times,
    mask,
  );
}
