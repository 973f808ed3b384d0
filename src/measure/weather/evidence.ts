import type { Camera } from '../../camera/description.js';
import type { Clip } from '../../clip/open.js';
import { keyOf } from '../../store/key.js';
import type { ColumnSource } from '../../sweep/columns.js';
import type { Assumed, Setup } from '../../weather/setup.js';
import { createWeather } from '../../weather/weather.js';
import { analysedFrames } from '../analysed.js';
import {
  BoxMeter,
  type BoxRows,
  boxesKey,
  keepBoxes,
  readBoxes,
  type WithinBoxes,
  withinBoxes,
} from '../boxes.js';
import { framesOf, type ReadingOptions } from '../evidence.js';
import { ENGINE_MEANING } from '../evidence-key.js';
import { measure } from '../pass.js';
import type { Moment } from '../track.js';

/** Raised whenever the same weather is put onto the same frames differently. */
export const WEATHER_MEANING = 14;

/** Some of a clip's analysed frames, one after the other. */
export interface Sample {
  /** The first of them, among the analysed frames. */
  from: number;
  /** Seconds from the clip's start. */
  times: Float64Array;
}

export interface SimulatedEvidence extends ColumnSource {
  assumed: readonly Assumed[];
  /** How much changed within the boxes of visits; null where none has one. */
  within: WithinBoxes | null;
}

/**
 * Evidence of a sample of a clip in each of several kinds of weather, for every level from `floor` up. All that the cache
 * does not hold is made in one reading of the sample.
 * @param boxes what is to be measured within the boxes of visits, frames counted from the sample's first
 * @param setups of the camera's analysis size
 * @returns in the order of the setups
 */
export async function simulatedEvidenceOf(
  clip: Clip,
  camera: Camera,
  mask: Uint8Array | null,
  floor: number,
  sample: Sample,
  boxes: BoxRows | null,
  setups: readonly Setup[],
  options: ReadingOptions,
): Promise<SimulatedEvidence[]> {
  const { from, times } = sample;
  const indices = analysedFrames(clip, camera).indices.subarray(from, from + times.length);
  const assumed = setups.map((setup) => createWeather(setup).assumed);
  const { width, height } = camera.analysis;
  const keys = setups.map((setup, i) => simulatedKey(clip, camera, setup, assumed[i]!, sample, mask, floor));
  const within = await Promise.all(
    keys.map(async (key) => {
      const kept = boxes && (await readBoxes(options.cache, boxesKey(key, boxes)));
      return { kept, meter: boxes && !kept ? new BoxMeter(boxes, width, height, floor, mask) : null };
    }),
  );
  /** What other threads measured within boxes, where they did. */
  const apart: (Uint8Array | null)[] = setups.map(() => null);
  const tracks = setups.map((setup, i) => {
    const { meter } = within[i]!;
    const differencer = { ...camera.analysis, reference: camera.reference, mask };
    const keepBoxes = (bytes: Uint8Array | null) => {
      apart[i] = bytes;
    };
    return {
      key: keys[i]!,
      differencer,
      floor,
      weather: () => createWeather(setup),
      apart: { setup, differencer, floor, boxes: meter && boxes, keepBoxes },
      // Weather follows from the frames before, so the whole sample is measured again where only boxes are new.
      ...(meter && {
        watch: ({ frame, difference }: Moment) => meter.take(frame, difference),
        anew: true,
      }),
    };
  });
  const measured = await measure(framesOf(clip, camera, indices, times, options), tracks, options);
  return Promise.all(
    measured.map(async (evidence, i) => {
      const { kept, meter } = within[i]!;
      const bytes = kept ?? apart[i] ?? meter?.bytes ?? null;
      if (boxes && meter && bytes) await keepBoxes(options.cache, boxesKey(keys[i]!, boxes), bytes);
      return {
        ...evidence,
        assumed: assumed[i]!,
        within: boxes && bytes && withinBoxes(boxes, async () => bytes),
      };
    }),
  );
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
