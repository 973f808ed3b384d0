import { photosFor } from '../../camera/timing.js';
import type { Manifest } from '../../clip/manifest.js';
import { luminanceFrames } from '../../clip/open.js';
import type { ReadingOptions } from '../../measure/evidence.js';
import { causeTold } from '../../score/cause-told.js';
import { type ChangeMaps, mapsFrom } from '../cures/change-maps.js';
import type { Box, CauseName, ExplainedTrigger, Places } from '../diagnosis.js';
import type { ReplayedClip } from '../replayed-clip.js';
import { adjusted, type Layer } from '../teach/layer.js';
import { Finder } from './finder.js';
import type { FirstLook } from './first-look.js';
import { justLeft, justLeftText } from './just-left.js';
import { entryOf, type Found, keep, readKept } from './kept.js';
import { type Measures, vectorOf } from './measures/measures.js';
import { causeProbabilities, told, without } from './model/cause.js';
import { readAround } from './reading.js';
import { sentenceFor } from './sentences.js';

export interface Explained {
  /** The false triggers, or all where there are no labels, before their causes are put down. */
  looked: LookedAt[];
  places: Places;
  /** Visits caught by luck, by their places. */
  byLuck: number[];
  /** Null where no mask can be tried on them: nothing fired falsely, or the reference depends on the triggers. */
  maps: ChangeMaps | null;
  /** Gives up what the maps are kept in. */
  dispose: () => Promise<void>;
}

/** A trigger that was looked around. */
export interface LookedAt {
  time: number;
  box: Box;
  measures: Measures;
  /** By the shipped network without what the clip's own conditions rule out; one for each cause. */
  probabilities: readonly number[];
}

/**
 * Looks around the false triggers of a clip (all, where it has no labels). What an earlier run found in the same clip
 * under the same settings is taken from the cache.
 * @param first what was found while the clip was measured; given up with the result
 */
export async function lookAtTriggers(
  replayed: ReplayedClip,
  options: ReadingOptions,
  first: FirstLook | null = null,
): Promise<Explained> {
  const { found, maps, dispose } = await findings(replayed, options, first);
  const { triggers, places, byLuck } = found;
  const impossible = ruledOut(replayed.clip.manifest.conditions);
  const shipped = causeProbabilities(triggers.map(({ measures }) => vectorOf(measures)));
  const looked = triggers.map(({ trigger, box, measures }, i) => ({
    time: replayed.times[replayed.fired[trigger]!]!,
    box,
    measures,
    probabilities: without(shipped[i]!, impossible),
  }));
  return { looked, places, byLuck, maps, dispose };
}

/**
 * Why each of them fired.
 * @param layer what the owner taught; null: nothing
 */
export function explain(
  looked: readonly LookedAt[],
  replayed: Pick<ReplayedClip, 'clip' | 'camera' | 'judged' | 'level'>,
  layer: Layer | null,
): ExplainedTrigger[] {
  const { clip, camera, level } = replayed;
  const impossible = ruledOut(clip.manifest.conditions);
  return looked.map(({ time, box, measures, probabilities }) => {
    const by = told(layer ? adjusted(layer, probabilities) : probabilities, impossible);
    const isTold = causeTold(clip.labels?.causes, time) !== null;
    const visit = isTold ? null : justLeft(replayed, time, box, by.cause);
    if (visit) {
      const evidence = justLeftText(visit, time, photosFor(camera, time)[0]!);
      return { time, cause: 'visit', probability: null, evidence, box };
    }
    const evidence = sentenceFor(by, measures, level);
    return { time, cause: by.cause, probability: by.probability, evidence, box };
  });
}

type Findings = { found: Found } & Pick<Explained, 'maps' | 'dispose'>;

async function findings(
  replayed: ReplayedClip,
  options: ReadingOptions,
  first: FirstLook | null,
): Promise<Findings> {
  const entry = entryOf(replayed);
  const kept = await readKept(options.cache, entry);
  if (kept) {
    const dispose = async () => first?.dispose();
    return { found: kept.found, maps: kept.maps && mapsFrom(kept.maps), dispose };
  }
  const finder = first?.whole ?? (await lookAround(replayed, options));
  const { found } = finder;
  // Where nothing fired falsely no mask is to be tried.
  const writer = found.triggers.length > 0 ? finder.maps : null;
  const maps = writer && (await writer.finish());
  const packed = writer?.packedMaps ?? null;
  // Maps too many to hold are read anew another time, and everything with them.
  if (!writer || packed) await keep(options.cache, entry, found, packed);
  const dispose = async () => {
    await finder.maps?.dispose();
    await first?.dispose();
  };
  return { found, maps, dispose };
}

/**
 * One reading of the frames around the false triggers, and of those that were active. What changed where is kept besides,
 * so that masks can be tried without reading again.
 */
async function lookAround(replayed: ReplayedClip, options: ReadingOptions): Promise<Finder> {
  const { clip, camera, judged, settings } = replayed;
  const looked = judged.triggers.flatMap(({ verdict }, i) =>
    verdict === 'false' || verdict === null ? [i] : [],
  );
  const hot =
    replayed.truth && looked.length > 0 ? await framesOfEnough(replayed, settings.minimumArea) : null;
  const finder = new Finder(replayed, { cache: options.cache, maps: hot !== null });
  await readAround(
    replayed,
    { looked, wanted: hot ?? [] },
    {
      onFrame: (place, difference) => finder.maps?.append(place, difference),
      onTrigger: (trigger, region, difference) => finder.onTrigger(trigger, region, difference),
      onLook: (trigger, look) => finder.onLook(trigger, look),
    },
    (indices) => luminanceFrames(clip, indices, camera.analysis, options.signal),
    options.onProgress,
  );
  return finder;
}

/** Analysed frames whose area reaches the minimum; null where no evidence is kept. */
async function framesOfEnough(
  { evidence, level, camera }: ReplayedClip,
  minimumArea: number,
): Promise<number[] | null> {
  if (!evidence) return null;
  const area = (await evidence.columns([level], camera.area)).get(level) as Uint32Array;
  return Array.from(area.keys()).filter((k) => area[k]! >= minimumArea);
}

/** What the clip's own conditions leave out: no wind and no rain are what they say. */
function ruledOut(conditions: Manifest['conditions']): CauseName[] {
  return [
    ...(conditions?.wind === 0 ? (['wind'] as const) : []),
    ...(conditions?.rain === 0 ? (['rain'] as const) : []),
  ];
}
