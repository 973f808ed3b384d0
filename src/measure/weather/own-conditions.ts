import { inClipJson } from '../../base/about-clip.js';
import { significant } from '../../base/figures.js';
import type { Clip } from '../../clip/open.js';
import { DARK_BELOW, WINDY_FROM } from '../../weather/conditions.js';
import { estimateLight } from '../../weather/estimate.js';
import type { Conditions } from '../../weather/setup.js';
import { foliageOf } from './foliage.js';
import { windOf } from './recorded.js';

/** What a clip was recorded in, null where it can't be told; with a line for each thing that was estimated or not told. */
export interface OwnConditions {
  conditions: Conditions | null;
  notes: string[];
}

/**
 * The conditions of clip.json; what it leaves out is estimated where the estimate's whole range falls into one kind of
 * weather (wind from how the foliage moves, light from time and place), and called unknown where not. Rain is never
 * guessed.
 */
export async function ownConditions(
  clip: Clip,
  size: { width: number; height: number },
  signal?: AbortSignal,
): Promise<OwnConditions> {
  const said = clip.manifest.conditions;
  const notes: string[] = [];
  const conditions: Conditions = { ...said };
  if (said?.wind === undefined) {
    const { width, height } = size;
    const { map } = await foliageOf(clip, width, height, signal, size);
    const wind = await windOf(clip, { width, height, map, signal });
    if (wind.kind === 'estimated' && (wind.low >= WINDY_FROM || wind.high < WINDY_FROM)) {
      conditions.wind = wind.beaufort;
      notes.push(
        `${clip.dir}: wind of about Beaufort ${wind.beaufort} (${wind.low} to ${wind.high} an assumed range: drawn yards lie in it, a real one may not), estimated from how the foliage moves`,
      );
    } else {
      const why = wind.kind === 'estimated' ? `anything from Beaufort ${wind.low} to ${wind.high}` : wind.why;
      notes.push(`${clip.dir}: its wind is unknown (${why}); say it ${inClipJson('conditions.wind')}`);
    }
  }
  const { start, place } = clip.manifest;
  if (said?.light === undefined && start && place) {
    const light = estimateLight(new Date(start), place);
    if (light.low >= DARK_BELOW || light.high < DARK_BELOW) {
      conditions.light = light.lux;
      notes.push(
        `${clip.dir}: light of about ${significant(light.lux, 3)} lux, estimated from time and place`,
      );
    }
  }
  const told = said !== undefined || conditions.wind !== undefined;
  return { conditions: told ? conditions : null, notes };
}
