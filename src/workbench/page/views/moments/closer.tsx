import { clock } from '../../../../base/figures.js';
import { pictureOf } from '../../link/pictures.js';
import { clip } from '../../state/clip.js';
import { asked } from './asked.js';
import { frameAt, spacedOver } from './frame-at.js';
import { atHand, sheet } from './sheet.js';

/** Seconds before and after a moment that are shown with it. */
const AROUND = 0.6;

/** The moment at hand as whole pictures, one after the other. */
export function Closer() {
  const [open, now] = [clip.value, asked.value];
  const row = now?.rows[sheet.value[atHand.value] ?? -1];
  if (!open || !now || !row) return null;
  return (
    <section class="closer" aria-label="The moment at hand, picture by picture">
      {row.members.map((member) => {
        const { start, end } = now.moments[member]!;
        const around = { start: Math.max(0, start - AROUND), end: Math.min(open.seconds, end + AROUND) };
        return (
          <div class="film" key={member}>
            {spacedOver(around, Math.max(0.6, (around.end - around.start) / 12)).map((time) => (
              <figure key={time}>
                <img
                  src={pictureOf(open, frameAt(open.times, time), { shown: 320 })}
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
