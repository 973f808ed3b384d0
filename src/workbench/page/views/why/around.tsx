import { useEffect } from 'preact/hooks';
import type { Box } from '../../../../diagnose/diagnosis.js';
import type { Polygon } from '../../../../engine/mask.js';
import { clock } from '../../../../words/wording.js';
import { FramePicture } from '../../parts/frame-picture.js';
import { clip, showTime, step, time } from '../../state/clip.js';
import type { Moment } from './moments.js';

/** How long ago, or how long until. */
const away = (seconds: number) => `${Math.abs(seconds).toFixed(1)} s ${seconds < 0 ? 'before' : 'after'}`;

const NEAR = 1e-6;

/**
 * The picture around a moment, with what fired framed in the frame that fired.
 * @param box around what fired, or where the labels say the animal was
 * @param proposed polygons of a mask that could be put on
 */
export function Around({
  moment,
  box,
  mask,
  proposed,
}: {
  moment: Moment;
  box: Box | null;
  mask: readonly Polygon[];
  proposed: readonly Polygon[];
}) {
  useEffect(() => showTime(moment.time), [moment.id, moment.time]);
  const open = clip.value;
  if (!open) return null;
  const off = time.value - moment.time;
  const spacing = open.seconds / open.times.length;
  const there = moment.kind === 'nothing' ? Math.abs(off) < spacing / 2 : true;
  const when =
    moment.kind === 'nothing'
      ? Math.abs(off) < Math.max(NEAR, spacing / 2)
        ? 'the frame that fired'
        : `${away(off)} it fired`
      : time.value < moment.start
        ? `${away(time.value - moment.start)} the visit`
        : time.value > moment.end
          ? `${away(time.value - moment.end)} the visit`
          : 'during the visit';
  const points = (polygon: Polygon) => polygon.map(([x, y]) => `${x},${y}`).join(' ');
  return (
    <figure class="around">
      <div class="stage">
        <FramePicture>
          <svg viewBox="0 0 1 1" preserveAspectRatio="none" aria-hidden="true">
            {mask.map((polygon) => (
              <polygon class="masked" points={points(polygon)} />
            ))}
            {proposed.map((polygon) => (
              <polygon class="proposed" points={points(polygon)} />
            ))}
            {box && there && (
              <>
                <rect class="halo" x={box[0]} y={box[1]} width={box[2]} height={box[3]} />
                <rect class={moment.kind} x={box[0]} y={box[1]} width={box[2]} height={box[3]} />
              </>
            )}
          </svg>
        </FramePicture>
      </div>
      <figcaption>
        <button type="button" aria-label="one frame back" onClick={() => step(-1)}>
          ‹
        </button>
        <span>
          {clock(time.value, 1)}, {when}
          {box && there && (moment.kind === 'nothing' ? ', what fired is framed' : ', the animal is framed')}
        </span>
        <button type="button" aria-label="one frame on" onClick={() => step(1)}>
          ›
        </button>
        <button type="button" onClick={() => showTime(moment.time)}>
          Back to the moment
        </button>
      </figcaption>
    </figure>
  );
}
