import { clock } from '../../../../base/figures.js';
import type { Moment } from '../../../../tune/moments/find.js';
import { addressOf, type clip } from '../../state/clip.js';
import { type Box, boxes, keyOf } from './boxes.js';
import { closeUp, within } from './close-up.js';
import { frameAt } from './frame-at.js';

type Open = NonNullable<typeof clip.value>;

/** The peak of a moment from near by, with what changed framed. */
export function MomentPicture({ open, moment }: { open: Open; moment: Moment }) {
  const box = boxes.value.get(keyOf(open.id, moment));
  const part: Box = box ? closeUp(box) : [0, 0, 1, 1];
  const [x, y, w, h] = part;
  return (
    <span class="close-up" style={{ aspectRatio: `${open.width} / ${open.height}` }}>
      <img
        src={`${addressOf(open.id)}/frames/${frameAt(open.times, moment.peakTime)}`}
        alt={`at ${clock(moment.peakTime, 1)}`}
        style={{
          width: percent(1 / w),
          height: percent(1 / h),
          left: percent(-x / w),
          top: percent(-y / h),
        }}
      />
      {box && <Marked box={within(box, part)} />}
    </span>
  );
}

/** A frame around a part of the picture below it. */
function Marked({ box: [x, y, w, h] }: { box: Box }) {
  return (
    <span
      class="changed"
      style={{ left: percent(x), top: percent(y), width: percent(w), height: percent(h) }}
    />
  );
}

function percent(share: number): string {
  return `${100 * share}%`;
}
