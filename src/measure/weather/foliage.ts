import { significant } from '../../base/figures.js';
import type { Clip } from '../../clip/open.js';
import { luminance } from '../../engine/luminance.js';
import type { Size } from '../../weather/averaging.js';
import { WINDY_FROM } from '../../weather/conditions.js';
import { foliageFrom, spare } from '../../weather/foliage/foliage.js';
import { FoliageFinder, type FoundFoliage } from '../../weather/foliage/foliage-finder.js';
import { meterFor } from './noise.js';
import { sampleOf } from './sample.js';
import { seenAs } from './seen-as.js';

/** How much each pixel is foliage, and what is to be said of where that comes from. */
export interface Foliage {
  map: Uint8Array;
  defaults: string[];
}

/** What was found, by clip. */
const found = new WeakMap<Clip, Promise<FoundFoliage & { width: number; height: number }>>();

/**
 * Where a clip's foliage is: as labelled, else as found from a sample of its frames.
 * @param noiseAt the size at which the clip's noise will be asked for: it is measured in the same reading
 */
export async function foliageOf(
  clip: Clip,
  width: number,
  height: number,
  signal?: AbortSignal,
  noiseAt?: Size,
): Promise<Foliage> {
  if (clip.labels?.foliage) {
    const map = foliageFrom(clip.labels.foliage, width, height);
    const outlined = countOf(map);
    if (outlined === 0) return { map, defaults: [NO_PIXEL] };
    spare(map, await standsStill(clip, width, height, signal, noiseAt));
    return { map, defaults: sparedText(1 - countOf(map) / outlined) };
  }
  const { map, share, unsure, ...size } = await foundIn(clip, signal, noiseAt);
  return {
    map: luminance(map, 1, size.width, size.height, width, height),
    defaults: [foliageText(share, unsure)],
  };
}

/**
 * What does not sway in a clip, whoever outlined it: long straight edges that stand still; of a clip recorded in wind all long edges
 * that do, and all that would show it if it moved, and was never seen to.
 * @returns `width * height` bytes, 255 where it stands still
 */
async function standsStill(
  clip: Clip,
  width: number,
  height: number,
  signal?: AbortSignal,
  noiseAt?: Size,
): Promise<Uint8Array> {
  const { edges, straight, steady, ...size } = await foundIn(clip, signal, noiseAt);
  const windy = (clip.manifest.conditions?.wind ?? 0) >= WINDY_FROM;
  const still = windy ? edges.map((edge, i) => Math.max(edge, steady[i]!)) : straight;
  return luminance(still, 1, size.width, size.height, width, height);
}

/**
 * What sways in either of two clips of a view, but for what stood still in the windy one: what stood still in the calm one may move.
 * @returns `width * height` bytes: how much each pixel is something that sways
 */
export async function foliageOfTwo(calm: Clip, windy: Clip, { width, height }: Size): Promise<Uint8Array> {
  const maps = await Promise.all([calm, windy].map((clip) => foliageOf(clip, width, height)));
  const map = maps[0]!.map.map((value, i) => Math.max(value, maps[1]!.map[i]!));
  spare(map, await standsStill(windy, width, height));
  return map;
}

/** Pixels that count as foliage. */
function countOf(map: Uint8Array): number {
  return map.reduce((n, value) => n + (value >= 128 ? 1 : 0), 0);
}

/**
 * What a clip's own sample shows of foliage and of the sensor's noise, whatever the labels say.
 * @param noiseAt as for `foliageOf`
 */
export function foundIn(
  clip: Clip,
  signal?: AbortSignal,
  noiseAt?: Size,
): Promise<FoundFoliage & { width: number; height: number }> {
  const seen = seenAs(clip);
  const finding = found.get(seen) ?? find(seen, signal, noiseAt);
  found.set(seen, finding);
  finding.catch(() => found.delete(seen));
  return finding;
}

async function find(clip: Clip, signal?: AbortSignal, noiseAt?: Size) {
  const meter = noiseAt && meterFor(clip, noiseAt);
  const along = meter && {
    ...noiseAt,
    see: (y: Uint8Array, first: boolean) => meter.see(y, first),
    done: () => meter.measure(signal),
  };
  const { width, height, runs } = await sampleOf(clip, signal, along ?? undefined);
  const finder = new FoliageFinder(width, height);
  for (const run of runs) {
    finder.restart();
    for (const { y } of run) finder.see(y);
  }
  return { ...finder.find(), width, height };
}

const NO_PIXEL =
  'labels.json: foliage, whose outlines hold no pixel, so no sway is simulated; draw them around what sways';
const OUTLINE = 'outline foliage in labels.json (the page of `perchmark open` draws outlines)';

/** Less of an outline than this need not be told. */
const LEAST_SPARED = 0.01;

function sparedText(share: number): string[] {
  if (share < LEAST_SPARED) return [];
  return [
    `labels.json: foliage, ${significant(100 * share, 2)} % of what it outlines stands still in the clip (long straight edges, and of a clip in wind what that was not seen to move), and is not made to sway`,
  ];
}

function foliageText(share: number, unsure: boolean): string {
  if (share === 0) {
    return unsure
      ? `labels.json: foliage, none found: parts look like leaves, but nothing sways, so no sway is simulated; if they are leaves, ${OUTLINE}`
      : `labels.json: foliage, none found, because nothing that looks like leaves sways, so no sway is simulated; if there is any, ${OUTLINE}`;
  }
  const percent = `${significant(100 * share, 2)} % of the picture`;
  const doubt = unsure ? '; more looks like leaves but was not seen to sway, and stays still' : '';
  return `labels.json: foliage, found where leaves sway in the clip, ${percent}${doubt}; better: ${OUTLINE}`;
}
