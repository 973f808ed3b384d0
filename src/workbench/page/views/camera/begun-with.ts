import type { Camera } from '../../../../camera/description.js';

/** What is the owner's whichever camera theirs is like: nothing of it stands in a camera that is offered. */
const DECIDES = ['analysis', 'reference', 'area', 'shutterLag', 'burst'] as const;

/**
 * What is taken over of an offered camera into the owner's own description.
 * @param keepsDials whether the dials stay those that are described
 * @param names of all cameras that are offered: any other is one that the owner gave, and stays
 */
export function begunWith(
  mine: Camera,
  offered: Camera,
  keepsDials: boolean,
  names: readonly string[],
): Partial<Camera> {
  const part = Object.fromEntries(DECIDES.map((field) => [field, offered[field]]));
  return {
    ...part,
    ...(!keepsDials && { controls: offered.controls }),
    ...(names.includes(mine.name) && { name: offered.name }),
  };
}
