import type { ComponentChildren } from 'preact';
import { clock } from '../../../../base/figures.js';
import { clip, frame, showTime, step, time } from '../../state/clip.js';

/** Seconds that Page up and Page down go. */
const PAGE = 10;

/**
 * Where in the clip one is, as a slider by the ARIA practices (slider, seek): arrows go a frame, Page keys ten seconds, Home
 * and End to the ends.
 */
export function Seek({ children }: { children: ComponentChildren }) {
  const open = clip.value;
  if (!open) return null;
  const last = open.times.length - 1;
  const keys: Record<string, () => void> = {
    ArrowRight: () => step(1),
    ArrowUp: () => step(1),
    ArrowLeft: () => step(-1),
    ArrowDown: () => step(-1),
    PageUp: () => showTime(time.value + PAGE),
    PageDown: () => showTime(time.value - PAGE),
    Home: () => step(-last),
    End: () => step(last),
  };
  return (
    <div
      class="seek"
      role="slider"
      tabIndex={0}
      aria-label="Where in the clip"
      aria-valuemin={0}
      aria-valuemax={last}
      aria-valuenow={frame.value}
      aria-valuetext={`${inWords(time.value)} of ${inWords(open.seconds)}, ${clock(time.value, 1)}`}
      onKeyDown={(event) => {
        const act = keys[event.key];
        if (!act || event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
        event.preventDefault();
        act();
      }}
    >
      {children}
    </div>
  );
}

/** '1 minute 23.4 seconds'. */
function inWords(seconds: number): string {
  const minutes = Math.floor(seconds / 60 + 1e-9);
  const rest = Number(Math.max(0, seconds - 60 * minutes).toFixed(1));
  const unit = (n: number, one: string) => `${n} ${n === 1 ? one : `${one}s`}`;
  return `${minutes > 0 ? `${unit(minutes, 'minute')} ` : ''}${unit(rest, 'second')}`;
}
