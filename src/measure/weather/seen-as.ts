import type { LabelledClip } from '../../clip/labelled.js';
import type { Clip } from '../../clip/open.js';
import type { Polygon } from '../../engine/mask.js';

/** By a clip with another mask: the clip it was made from. */
const origins = new WeakMap<Clip, Clip>();

/** The same clip with another mask in its labels, of which whatever a sample shows of the first is known as well. */
export function withMask(clip: LabelledClip, mask: readonly Polygon[]): LabelledClip {
  const masked = { ...clip, labels: { ...clip.labels, mask: [...mask] } };
  origins.set(masked, seenAs(clip));
  return masked;
}

/** The clip under which what samples show is known: samples look beneath masks. */
export function seenAs(clip: Clip): Clip {
  return origins.get(clip) ?? clip;
}
