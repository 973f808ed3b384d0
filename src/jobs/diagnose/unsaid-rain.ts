import { plural } from '../../base/figures.js';
import type { Manifest } from '../../clip/manifest.js';
import type { ExplainedTrigger } from '../../diagnose/diagnosis.js';

/**
 * Where rain is named in a clip of which nobody noted whether it rained, in a line; else null. Thin upright things that move,
 * as the slats of a gate, look much like it, and one word of the owner's rules it out.
 * @param clip as the user gave it
 */
export function unsaidRainText(
  clip: string,
  conditions: Manifest['conditions'],
  explained: readonly Pick<ExplainedTrigger, 'cause'>[],
): string | null {
  const named = explained.filter(({ cause }) => cause === 'rain').length;
  if (named === 0 || conditions?.rain !== undefined) return null;
  return `${clip}: rain is named ${plural(named, 'time')}, and nobody noted whether it rained; if it did not, note it in clip.json, "conditions": { "rain": 0 }, and it is ruled out`;
}
