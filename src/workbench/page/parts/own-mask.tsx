import { plural } from '../../../base/figures.js';
import { maskTaken, ownMask } from '../state/mask-taken.js';

/** Says so where settings brought a mask of their own, and takes it off. */
export function OwnMask() {
  const mask = ownMask.value;
  if (!mask) return null;
  return (
    <p class="note">
      Under the mask that came with these settings ({plural(mask.length, 'shape')}), in the place of the
      labels' own.{' '}
      <button
        type="button"
        onClick={() => {
          maskTaken.value = null;
        }}
      >
        Back to the labels' mask
      </button>
    </p>
  );
}
