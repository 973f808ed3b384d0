import { useRef } from 'preact/hooks';
import { clock } from '../../../../base/figures.js';
import { clip, time } from '../../state/clip.js';
import { evidence } from '../../state/evidence.js';
import { windowAround } from './layout.js';
import { Legend } from './legend.js';
import { Seek } from './seek.js';
import { StripCanvas } from './strip-canvas.js';
import './strip.css';
import { useShades } from './use-shades.js';
import { useWidth } from './use-width.js';
import { WIDEST, wide, widen } from './zoom.js';

/** The open clip over time: all of it, and what is around now; with what changed, what was marked and what would fire. */
export function Strip() {
  const open = clip.value;
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box);
  const seconds = open?.seconds ?? 0;
  const near = windowAround(time.value, wide.value, seconds);
  const length = near.to - near.from;
  // Asked for in pieces twice as wide as the window, so that moving on does not ask at every frame.
  const from = length > 0 ? Math.floor(near.from / length) * length : 0;
  const to = Math.min(seconds, from + 2 * length);
  const all = useShades(0, seconds, width);
  const part = useShades(from, to, length > 0 ? Math.round((width * (to - from)) / length) : 0);
  if (!open) return null;
  const reading = evidence.value.kind === 'reading' ? evidence.value.share : null;
  return (
    <section class="strip" aria-label="The clip over time">
      <div ref={box} class="strip-rows">
        <Seek>
          <StripCanvas span={{ from: 0, to: seconds, width }} shades={all} window={near} />
        </Seek>
        <div aria-hidden="true">
          <StripCanvas span={{ ...near, width }} shades={part} window={null} />
        </div>
      </div>
      <div class="strip-foot">
        <p class="note">
          Below: {clock(near.from, 1)} to {clock(near.to, 1)}{' '}
          <button type="button" class="small" onClick={() => widen(0.5)} disabled={length <= 2}>
            Nearer
          </button>{' '}
          <button
            type="button"
            class="small"
            onClick={() => widen(2)}
            disabled={length >= Math.min(seconds, WIDEST)}
          >
            Further
          </button>
        </p>
        {reading !== null && (
          <p class="note" role="status">
            <label>
              Reading how much changes <progress value={reading} />
            </label>
          </p>
        )}
        <Legend />
      </div>
    </section>
  );
}
