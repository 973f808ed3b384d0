import type { Manifest } from '../../clip/manifest.js';
import { luminanceFrames, type ReadingOptions } from '../../replay/evidence.js';
import type { Case } from '../case.js';
import { type ChangeMaps, ChangeMapWriter } from '../cures/change-maps.js';
import type { Box, CauseName, ExplainedTrigger, Places } from '../diagnosis.js';
import { LuckCounter } from './luck.js';
import { type Measures, measure, vectorOf } from './measures/measures.js';
import { causesOf } from './model/cause.js';
import { boxOfVisit, fractionBox, PlaceCounter } from './places.js';
import { readAround } from './reading.js';
import { sentenceFor } from './sentences.js';

export interface Explained {
  explained: ExplainedTrigger[];
  places: Places;
  /** Visits caught by luck, by their places. */
  byLuck: number[];
  /** Null where no mask can be tried on them: nothing fired falsely, or the reference depends on the triggers. */
  maps: ChangeMaps | null;
  /** Gives up what the maps are kept in. */
  dispose: () => Promise<void>;
}

/**
 * Looks around the false triggers of a clip (all, where it has no labels) and says why each fired, in one reading of
 * the frames that this needs. What changed where is kept besides, so that masks can be tried without reading again.
 */
export async function explainTriggers(a: Case, options: ReadingOptions): Promise<Explained> {
  const { clip, camera, judged, settings, level } = a;
  const { width, height } = camera.analysis;
  const looked = judged.triggers.flatMap(({ verdict }, i) =>
    verdict === 'false' || verdict === null ? [i] : [],
  );
  const asked = new Set(looked);
  const places = new PlaceCounter(a);
  const luck = new LuckCounter(a, (visit) => boxOfVisit(a, visit));
  const boxes = new Map<number, Box>();
  const measured: { trigger: number; measures: Measures }[] = [];
  const hot = a.truth && looked.length > 0 ? await framesOfEnough(a, settings.minimumArea) : null;
  const writer = hot && new ChangeMapWriter(width, height, level, options.cache);

  await readAround(
    a,
    { looked, wanted: hot ?? [] },
    {
      onFrame: (place, difference) => writer?.append(place, difference),
      onTrigger: (trigger, region, difference) => {
        if (!asked.has(trigger)) {
          places.addTrue(trigger, region);
          luck.add(trigger, difference);
          return;
        }
        boxes.set(trigger, fractionBox(region));
        places.addExplained(region);
      },
      onLook: (trigger, look) => {
        measured.push({ trigger, measures: measure(look) });
      },
    },
    (indices) => luminanceFrames(clip, indices, camera.analysis, options.signal),
    options.onProgress,
  );

  const told = await causesOf(
    measured.map(({ measures }) => vectorOf(measures)),
    ruledOut(clip.manifest.conditions),
  );
  const explained = measured.map(({ trigger, measures }, i) => {
    const by = told[i] as (typeof told)[number];
    return {
      time: a.times[a.fired[trigger] as number] as number,
      cause: by.cause,
      probability: by.probability,
      evidence: sentenceFor(by, measures, level),
      box: boxes.get(trigger) as Box,
    };
  });
  return {
    explained,
    places: places.places,
    byLuck: luck.byLuck,
    maps: writer && (await writer.finish()),
    dispose: async () => writer?.dispose(),
  };
}

/** Analysed frames whose area reaches the minimum; null where no evidence is kept. */
async function framesOfEnough(
  { evidence, level, camera }: Case,
  minimumArea: number,
): Promise<number[] | null> {
  if (!evidence) return null;
  const area = (await evidence.columns([level], camera.area)).get(level) as Uint32Array;
  return Array.from(area.keys()).filter((k) => (area[k] as number) >= minimumArea);
}

/** What the clip's own conditions leave out: no wind and no rain are what they say. */
function ruledOut(conditions: Manifest['conditions']): CauseName[] {
  return [
    ...(conditions?.wind === 0 ? (['wind'] as const) : []),
    ...(conditions?.rain === 0 ? (['rain'] as const) : []),
  ];
}
