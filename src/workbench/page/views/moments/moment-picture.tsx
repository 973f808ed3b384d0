import { clock } from '../../../../base/figures.js';
import { nearestPlace } from '../../../../base/nearest.js';
import type { Moment } from '../../../../tune/moments/find.js';
import { pictureAddress } from '../../link/pictures.js';
import type { clip } from '../../state/clip.js';
import { type Box, boxOf } from './boxes.js';
import { closeUp, within } from './close-up.js';

/** Device pixels: a column of the sheet, on a fine screen. */
const SHOWN = 480;

type Open = NonNullable<typeof clip.value>;

/** Which part of its picture shows a moment from near by: all of it where nothing is known to have changed. */
function partOf(box: Box | null | undefined): Box {
  return box ? closeUp(box) : [0, 0, 1, 1];
}

/** Where the picture of a moment is. */
export function momentAddress(open: Open, moment: Moment, box: Box | null): string {
  return pictureAddress(open, nearestPlace(open.times, moment.peakTime), { shown: SHOWN, box: partOf(box) });
}

/** The peak of a moment from near by, with what changed framed. */
export function MomentPicture({ open, moment }: { open: Open; moment: Moment }) {
  const box = boxOf(moment);
  const part = partOf(box);
  return (
    <span class="close-up" style={{ aspectRatio: `${open.width} / ${open.height}` }}>
      {/* Asked for only once it is known which part: null where nothing changed. */}
      {box !== undefined && (
        <img src={momentAddress(open, moment, box)} alt={`at ${clock(moment.peakTime, 1)}`} />
      )}
      {box && <Marked box={within(box, part)} />}
    </span>
  );
}

/** A frame around a part of the picture below it. */
function Marked({ box: [x, y, w, h] }: { box: Box }) {
  return (
    <span
      class="moment-changed"
      style={{ left: percent(x), top: percent(y), width: percent(w), height: percent(h) }}
    />
  );
}

function percent(share: number): string {
  return `${100 * share}%`;
}
