import type { Clip } from '../clip/open.js';
import type { Polygon } from '../engine/mask.js';

/** What is not watched under some settings: their own mask, else those of the clips' labels. */
export function maskInForce(
  clips: readonly Pick<Clip, 'labels'>[],
  settings: { mask?: Polygon[] },
): readonly Polygon[] {
  return settings.mask ?? clips.flatMap(({ labels }) => labels?.mask ?? []);
}
