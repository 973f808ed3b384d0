import type { Camera } from '../../camera/description.js';
import { photosATrigger } from '../../outing/evening/photos-a-trigger.js';
import type { PromisedStretch } from '../../outing/evening/promise.js';
import { burstAgainst, burstShown } from './burst-shown.js';
import { inPhotos, type PromisedFile } from './promised.js';
import type { Withheld } from './result.js';

/** A promise as photos can be held against it, or why they cannot. */
export interface Held extends Pick<PromisedFile, 'kind' | 'site' | 'nothing'> {
  withheld: Withheld | null;
  photosPerTrigger: number | null;
  /** Who says how many. */
  saidBy: 'camera' | 'promise' | 'photos';
  /** How many the photos themselves show; null: they leave it open. */
  shown: number | null;
  /** By the camera's clock; none where that is not known. */
  stretches: PromisedStretch[];
  /** Minutes that the camera's clock is ahead of UTC, where somebody said. */
  clock: number | null;
}

/**
 * Brings a promise to the camera's clock and to photos. How many of these a trigger brings is said by the camera, where
 * the photos do not show that it cannot be so, or else by the promise, where they do not clearly speak against it, or else by them. A plan in UTC says nothing of what
 * clocks at the place show, so the camera's must be said.
 * @param camera as given by hand
 * @param clock minutes ahead of UTC, as given by hand
 * @param times of the photos, rising
 */
export function heldAgainst(
  promised: PromisedFile,
  camera: Camera | null,
  clock: number | null,
  times: readonly number[],
): Held {
  const { kind, site, nothing, stretches } = promised;
  const against = camera && burstAgainst(times, camera);
  const shown = against?.photos ?? photosATrigger(times) ?? burstShown(times)?.photos ?? null;
  const said = against?.photos ?? camera?.burst.photos ?? promised.photosPerTrigger;
  const photosPerTrigger = said ?? shown;
  const inUtc = kind === 'plan' && clock === null && stretches.every(({ offset }) => offset === 0);
  const counts = (): Withheld | null => {
    if (photosPerTrigger === null) return 'photos a trigger not known';
    return camera === null && shown !== null && shown !== said && said !== null
      ? 'other photos a trigger'
      : null;
  };
  const withheld = inUtc ? 'clock not known' : nothing === null ? counts() : null;
  return {
    kind,
    site,
    nothing,
    withheld,
    photosPerTrigger,
    saidBy: against
      ? 'photos'
      : camera
        ? 'camera'
        : promised.photosPerTrigger === null
          ? 'photos'
          : 'promise',
    shown,
    stretches: inUtc ? [] : inPhotos(promised, withheld === null ? photosPerTrigger : null, clock),
    clock,
  };
}
