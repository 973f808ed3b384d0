import { clock } from '../../../../base/figures.js';
import { nearestPlace } from '../../../../base/nearest.js';
import { pictureAddress } from '../../link/pictures.js';
import { clip } from '../../state/clip.js';
import { asked } from './asked.js';
import { atHand, sheet } from './sheet.js';
import { picturesOf } from './spaced.js';

/** The moment at hand as whole pictures, one after the other. */
export function Closer() {
  const [open, now] = [clip.value, asked.value];
  const cell = sheet.value[atHand.value];
  if (!open || !now || !cell) return null;
  return (
    <section class="closer" aria-label="The moment at hand, picture by picture">
      <p class="note">
        The moment at hand from beginning to end. Look along the row before you answer: an animal may come
        after what changed most.
      </p>
      {cell.map((member) => {
        return (
          <div class="film" key={member}>
            {picturesOf(now.moments[member]!, open.seconds).map((time) => (
              <figure key={time}>
                <img
                  src={pictureAddress(open, nearestPlace(open.times, time), { shown: 320 })}
                  width={open.width}
                  height={open.height}
                  alt={`all of the view at ${clock(time, 1)}`}
                />
                <figcaption class="note">{clock(time, 1)}</figcaption>
              </figure>
            ))}
          </div>
        );
      })}
    </section>
  );
}
