import type { Camera } from '../camera/description.js';
import { type Between, exactly } from './between.js';

/** GB for photos, and MB of one; powers of ten. */
export interface Storage {
  cardGB: number;
  photoMB: Between;
}

/** Of a photo of 8 megapixels as JPEG: no source, it depends on the scene. */
export const usualPhotoMB: Between = { value: 3.5, low: 2, high: 5 };
const USUAL_CARD_GB = 16;

/**
 * A camera's card and photos with nothing left out.
 * @param measured MB of the owner's own photos, which go before what camera.json says; null: none were measured
 * @returns also a line for each figure that stood in for one that is not known
 */
export function storageOf(
  { storage = {} }: Pick<Camera, 'storage'>,
  measured: Between | null,
): { storage: Storage; assumed: string[] } {
  const { cardGB, photoMB } = storage;
  const assumed: string[] = [];
  if (cardGB === undefined) assumed.push(`storage.cardGB: ${USUAL_CARD_GB} GB, all of it free for photos`);
  if (!measured && photoMB === undefined) {
    const { value, low, high } = usualPhotoMB;
    assumed.push(
      `storage.photoMB: ${value} MB, ${low} to ${high}, an assumption without a source; --photos measures yours`,
    );
  }
  return {
    storage: {
      cardGB: cardGB ?? USUAL_CARD_GB,
      photoMB: measured ?? (photoMB === undefined ? usualPhotoMB : exactly(photoMB)),
    },
    assumed,
  };
}

/** How many photos a card holds. */
export function photosOnCard({ cardGB, photoMB }: Storage): number {
  return Math.floor((cardGB * 1000) / photoMB.value);
}

/** Days of a card; null where it is never full. */
export interface Days {
  value: number | null;
  low: number;
  high: number | null;
}

/** Days until a card is full, or null where no photo is taken, nor may be. */
export function cardDays({ cardGB, photoMB }: Storage, photosPerDay: Between): Days | null {
  if (photosPerDay.high === 0) return null;
  const days = (MB: number, photos: number) => (photos === 0 ? null : (cardGB * 1000) / MB / photos);
  return {
    value: days(photoMB.value, photosPerDay.value),
    low: (cardGB * 1000) / photoMB.high / photosPerDay.high,
    high: days(photoMB.low, photosPerDay.low),
  };
}
