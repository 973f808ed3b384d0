import type { PhotoSizes } from '../../clip/photo-sizes.js';
import type { Between } from '../../outing/between.js';
import { usualPhotoMB } from '../../outing/card.js';
import { t95 } from '../../score/student.js';

/**
 * How large photos are on average, by some of them, in MB: a card is filled by thousands, so that what is in doubt is their
 * mean and not each one. Of several, 90 % by Student's t of the mean, on a scale of logarithms, on which it stays above
 * nothing; of a single one as widely as is usual.
 * @returns also a line for what was assumed
 */
export function meanSize({ photos, mean, deviation }: PhotoSizes): { photoMB: Between; assumed: string[] } {
  if (deviation === null) {
    const { value, low, high } = usualPhotoMB;
    const photoMB = { value: mean, low: (mean * low) / value, high: (mean * high) / value };
    return {
      photoMB,
      assumed: [
        'how far the mean of photos may lie from the only one given: as far as is usual, an assumption without a source',
      ],
    };
  }
  const factor = Math.exp((t95(photos - 1) * deviation) / mean / Math.sqrt(photos));
  return { photoMB: { value: mean, low: mean / factor, high: mean * factor }, assumed: [] };
}
