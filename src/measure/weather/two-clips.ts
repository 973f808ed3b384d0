import { significant } from '../../base/figures.js';
import { Problem } from '../../base/problem.js';
import type { Camera } from '../../camera/description.js';
import type { Clip } from '../../clip/open.js';
import { luminance } from '../../engine/luminance.js';
import type { Cache } from '../../store/cache.js';
import type { Size } from '../../weather/averaging.js';
import { FoliageFinder } from '../../weather/foliage/foliage-finder.js';
import type { UnrestMeter } from '../../weather/foliage/unrest.js';
import type { SiteMotion } from '../../weather/setup.js';
import { keptClosed } from './closing.js';
import { foliageOfTwo } from './foliage.js';
import { keptFit } from './kept-fit.js';
import { type ClipSample, sampleOf } from './sample.js';
import { setupFor } from './setup-for.js';
import { keptWeighed, shareLeft } from './spread.js';
import { againstItself, againstWindy, motionText, smoothed, toldIn, unrestOf } from './sway.js';

/** The share of changed pixels must be so much larger than in the calm clip for the windy one to say anything. */
const CLEARLY_MORE = 1.1;

/** What two clips tell of a site. */
export interface MeasuredSway {
  motion: SiteMotion;
  /** What sways in either of them, weighed by how far each place was seen to go, of `width * height`. */
  foliage: { map: Uint8Array; width: number; height: number };
}

/**
 * How far branches of the site really go and how much its leaves flutter: how far each place goes against the others, and the
 * factors on what is assumed with which the calm clip, made as windy as the other, changes as much and as far as that one does, and with which its own wind on its own
 * still frames changes as much as it does itself. All of it is compared as the camera compares frames, at its size and smoothed
 * as it does: what compression and noise change of single pixels is no wind, and a camera that smooths does not see it.
 * @param windy a clip of the same site and view; its clip.json must say its wind
 * @throws Problem 'usage' or 'bad-field' when the windy clip cannot tell
 */
export async function measureSway(
  calm: Clip,
  windy: Clip,
  camera: Pick<Camera, 'lens' | 'exposure' | 'sensor' | 'analysis'>,
  seed: string,
  cache: Cache,
): Promise<MeasuredSway> {
  const wind = windy.manifest.conditions?.wind;
  if (wind === undefined) {
    throw new Problem(
      'bad-field',
      `${windy.dir}/clip.json: conditions.wind: expected the Beaufort number it was recorded in, so that sway can be measured, found nothing; write it in`,
    );
  }
  const sample = await sampleOf(calm);
  const size = { width: sample.width, height: sample.height };
  const map = await foliageOfTwo(calm, windy, size);
  const counted = map.reduce((n, value) => n + (value >= 128 ? 1 : 0), 0);
  if (counted === 0) {
    throw new Problem(
      'usage',
      `${windy.dir}: no foliage that could be measured was found; outline it in labels.json under "foliage", or leave --sway-from out`,
    );
  }
  refuseRestless(windy, await sampleOf(windy), resizedMap(map, size, await sampleOf(windy)));
  const seen = unrestOf(resized(await sampleOf(windy), size), map);
  const before = unrestOf(sample, map);
  if (seen.changed() <= before.changed() * CLEARLY_MORE) {
    throw new Problem(
      'usage',
      `${windy.dir}: its foliage changes no more than that of ${calm.dir} (${percent(seen)} of it from frame to frame, against ${percent(before)}), so sway cannot be measured from it; give a windier clip, or leave --sway-from out`,
    );
  }
  const view = viewOf(camera, size);
  const compared = resized(sample, view);
  const blown = resized(await sampleOf(windy), view);
  const sways = resizedMap(map, size, view).slice();
  const { setup } = await setupFor(calm, camera, { wind }, { ...view, seed, cache, motion: null });
  const blowing = { ...setup, foliage: sways, inFront: [] };
  const said = calm.manifest.conditions?.wind;
  const spread = await keptWeighed(
    cache,
    sways,
    compared,
    blown,
    blowing,
    {
      calm: noiseIn(smoothed(compared, view.radius)),
      windy: noiseIn(smoothed(blown, view.radius)),
    },
    view.radius,
  );
  const weighing = { ...blowing, foliage: spread };
  const shown = unrestOf(smoothed(blown, view.radius), sways).measure();
  const noise = noiseIn(compared);
  const fit = await keptFit(
    [
      againstWindy(compared, weighing, shown, sways, view.radius),
      // A wind that was only estimated from how the foliage moves says nothing new of it.
      ...(said === undefined || said === 0
        ? []
        : [againstItself({ sample: compared, noise }, weighing, sways, view.radius)]),
    ],
    sample.rate,
    cache,
  );
  const closed = await keptClosed(cache, compared, blown, weighing, fit.factors, sways, view.radius);
  const factors = {
    ...fit.factors,
    branches: fit.factors.branches * closed.times,
    leaves: fit.factors.leaves * closed.times,
  };
  const clips = `two clips, ${calm.dir} and ${windy.dir} (Beaufort ${significant(wind, 3)}, where ${percent(seen)} of the foliage changes from frame to frame, against ${percent(before)})`;
  const upTo = Math.max(wind, said ?? 0);
  const left = shareLeft(sways, closed.weights);
  const onAverage = { ...factors, branches: factors.branches * left, leaves: factors.leaves * left };
  const how = `${motionText(clips, { ...fit, factors: onAverage })}; that is the mean, and each place goes as far against the others as it was seen to`;
  const motion = { ...factors, how, told: toldIn(fit), onTwo: true, upTo };
  return { motion, foliage: { map: closed.weights, width: view.width, height: view.height } };
}

/** What is not foliage may change so much as foliage does, by share, before it is no wind that is seen. */
const ALIKE = 0.8;
/** Frames a second from which on neighbours show how far leaves go at a time. */
const SLOWEST = 1;
/** Of the picture, to tell by. */
const ENOUGH_ELSE = 0.05;

/** Frames too far apart show any sway as the same shimmer, and noise or a shaking camera move all of the picture alike. */
function refuseRestless({ dir }: Clip, sample: ClipSample, map: Uint8Array): void {
  if (sample.rate < SLOWEST) {
    throw new Problem(
      'usage',
      `${dir}: sway cannot be measured from ${significant(sample.rate, 2)} frames a second, too few to see leaves go to and fro; give a clip of ${SLOWEST} or more, or leave --sway-from out`,
    );
  }
  const others = map.map((value) => 255 - value);
  if (others.filter((value) => value >= 128).length < ENOUGH_ELSE * others.length) return;
  const [elsewhere, leaves] = [unrestOf(sample, others).changed(), unrestOf(sample, map).changed()];
  if (elsewhere < ALIKE * leaves) return;
  throw new Problem(
    'usage',
    `${dir}: what is no foliage changes as much there as foliage does (${significant(100 * elsewhere, 2)} % against ${significant(100 * leaves, 2)} % from frame to frame), which is noise or a shaking camera, not wind; give another clip, or leave --sway-from out`,
  );
}

function resizedMap(map: Uint8Array, from: Size, to: Size): Uint8Array {
  return luminance(map, 1, from.width, from.height, to.width, to.height);
}

function percent(unrest: UnrestMeter): string {
  return `${significant(100 * unrest.changed(), 2)} %`;
}

/** Mean squared change that the sensor's noise makes, for each pixel of a sample. */
function noiseIn({ width, height, runs }: ClipSample): Float32Array {
  const finder = new FoliageFinder(width, height);
  for (const run of runs) {
    finder.restart();
    for (const { y } of run) finder.see(y);
  }
  return finder.find().noise;
}

/** How the camera compares frames: at its own size, or at that of the sample where it is smaller, and how far it smooths there. */
function viewOf({ analysis }: Pick<Camera, 'analysis'>, sample: Size): Size & { radius: number } {
  const { width, height, smooth } = analysis;
  if (width <= sample.width && height <= sample.height) return { width, height, radius: smooth };
  return { ...sample, radius: Math.round((smooth * sample.width) / width) };
}

/** The same view at another size. */
function resized(sample: ClipSample, { width, height }: { width: number; height: number }): ClipSample {
  if (sample.width === width && sample.height === height) return sample;
  return {
    ...sample,
    width,
    height,
    runs: sample.runs.map((run) =>
      run.map(({ y, time }) => ({ y: luminance(y, 1, sample.width, sample.height, width, height), time })),
    ),
  };
}
