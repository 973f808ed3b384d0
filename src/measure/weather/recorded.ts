import { significant } from '../../base/figures.js';
import { Problem } from '../../base/problem.js';
import type { Clip } from '../../clip/open.js';
import { luminance } from '../../engine/luminance.js';
import { estimateLight, estimateWind, type WindEstimate } from '../../weather/estimate.js';
import { foliageFrom } from '../../weather/foliage/foliage.js';
import { MotionMeter } from '../../weather/foliage/motion.js';
import { OVERCAST_DAYLIGHT } from '../../weather/light/light.js';
import type { Conditions } from '../../weather/setup.js';
import { measuredSize, sampleOf } from './sample.js';

/** Taken for the wind of a recording that neither says nor shows it; Beaufort. */
const DEFAULT_WIND = 1;

interface Sample {
  width: number;
  height: number;
  /** How much each pixel is foliage. */
  map: Uint8Array;
  signal?: AbortSignal | undefined;
}

/**
 * The conditions a clip was recorded in, as far as the wish depends on them: as clip.json says, else estimated, else a
 * named default.
 * @throws Problem 'usage' where the wish is calmer, drier or brighter
 */
export async function recordedConditions(
  clip: Clip,
  to: Conditions,
  sample: Sample,
): Promise<{ from: Conditions; defaults: string[] }> {
  const said = clip.manifest.conditions ?? {};
  const from: Conditions = { ...said };
  const defaults: string[] = [];
  if (to.wind !== undefined && said.wind === undefined) {
    const wind = await windOf(clip, sample);
    const guess = wind.kind === 'estimated' ? wind : { beaufort: DEFAULT_WIND, low: 0 };
    // Within the range of the guess, the wish is not refused for being less.
    from.wind = to.wind < guess.low ? guess.beaufort : Math.min(guess.beaufort, to.wind);
    defaults.push(
      wind.kind === 'estimated'
        ? `clip.json: conditions.wind Beaufort ${from.wind} (${wind.low} to ${wind.high} an assumed range: drawn yards lie in it, a real one may not), estimated from how the foliage moves`
        : `clip.json: conditions.wind Beaufort ${from.wind} (not to be told from the clip: ${wind.why})`,
    );
  }
  if (to.light !== undefined && said.light === undefined) {
    const { start, place } = clip.manifest;
    const light = start && place ? estimateLight(new Date(start), place) : null;
    from.light = light?.lux ?? OVERCAST_DAYLIGHT;
    defaults.push(
      light
        ? `clip.json: conditions.light ${significant(light.lux, 3)} lux (${significant(light.low, 3)} to ${significant(light.high, 3)}), estimated from time and place`
        : `clip.json: conditions.light ${OVERCAST_DAYLIGHT} lux`,
    );
  }
  refuseLess(clip, from, to);
  return { from, defaults };
}

/** Weather can be put onto a recording but not taken off it. */
function refuseLess(clip: Clip, from: Conditions, to: Conditions): void {
  const stated = clip.manifest.conditions ?? {};
  const source = (key: keyof Conditions) =>
    stated[key] === undefined
      ? `clip.json does not say, so it was taken for`
      : `clip.json: conditions.${key} says`;
  if (to.wind !== undefined && to.wind < (from.wind ?? 0)) {
    throw new Problem(
      'usage',
      `${clip.dir}: wind of Beaufort ${significant(to.wind, 3)} is less than it was recorded in (${source('wind')} ${significant(from.wind ?? 0, 3)}); sway that is in the frames cannot be taken out: ask for more wind, or start from a calmer clip`,
    );
  }
  if (to.rain !== undefined && to.rain < (from.rain ?? 0)) {
    throw new Problem(
      'usage',
      `${clip.dir}: ${significant(to.rain, 3)} mm/h is less rain than it was recorded in (${source('rain')} ${significant(from.rain ?? 0, 3)} mm/h); rain that is in the frames cannot be taken out: ask for more, or start from a drier clip`,
    );
  }
  if (to.light !== undefined && from.light !== undefined && to.light > from.light) {
    throw new Problem(
      'usage',
      `${clip.dir}: ${significant(to.light, 3)} lux is brighter than it was recorded in (${source('light')} ${significant(from.light, 3)} lux); noise and blur that are in the frames cannot be taken out: ask for less light, or start from a brighter clip`,
    );
  }
}

/** What the foliage says of the wind a clip was recorded in. */
export async function windOf(clip: Clip, { width, height, map, signal }: Sample): Promise<WindEstimate> {
  const size = measuredSize(clip);
  const reduced = (y: Uint8Array, of: { width: number; height: number }) =>
    luminance(y, 1, of.width, of.height, size.width, size.height);
  // The scale was set by outlines as they are drawn, with what stands still in them.
  const outlines = clip.labels?.foliage;
  const foliage = outlines ? foliageFrom(outlines, size.width, size.height) : reduced(map, { width, height });
  const meter = new MotionMeter(size.width, size.height, foliage);
  const sample = await sampleOf(clip, signal);
  for (const run of sample.runs) {
    meter.restart();
    for (const { y } of run) meter.see(reduced(y, sample));
  }
  return estimateWind(meter.measure(), clip.rate, outlines !== undefined);
}
