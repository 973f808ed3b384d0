import { computed, signal } from '@preact/signals';
import { clip, frame } from './clip.js';
import { type Pace, paced } from './pace.js';

/** How many times as fast as it happened. */
export const SPEEDS = [0.25, 0.5, 1, 2, 4, 8, 16] as const;
/** Pictures a second that are shown at most when it goes faster than it happened. */
const MOST_RATE = 15;
/** Seconds between two pictures, at most, between which nothing is missed that would be seen. */
const LONGEST_BREAK = 0.5;

export const speed = signal<number>(1);
export const playing = signal(false);

/** Every how many frames one is shown. */
export const stride = computed(() => {
  const rate = clip.value?.rate ?? 1;
  return speed.value <= 1 ? 1 : Math.max(1, Math.round((rate * speed.value) / MOST_RATE));
});

/** So many speeds faster, or slower. */
export function faster(by: 1 | -1): void {
  const at = SPEEDS.indexOf(speed.value as (typeof SPEEDS)[number]) + by;
  speed.value = SPEEDS[Math.min(SPEEDS.length - 1, Math.max(0, at))]!;
}

export function stop(): void {
  playing.value = false;
}

/**
 * Shows the frames one after the other by the clip's own times, from the one that is shown; from the start where that is the
 * last. A frame that has not come yet is waited for.
 * @param isThere whether a frame's picture has come
 * @param onShown told of what was shown without a break: from one frame to the next
 */
export function play(isThere: (frame: number) => boolean, onShown: (from: number, to: number) => void): void {
  const open = clip.value;
  if (!open || playing.value) return;
  if (frame.value >= open.times.length - 1) frame.value = 0;
  playing.value = true;
  let pace: Pace = { frame: frame.value, time: open.times[frame.value]! };
  let last = performance.now();
  const tick = (now: number) => {
    if (!playing.value || clip.value !== open) return stop();
    const waited = (now - last) / 1000;
    const passed = waited * speed.value;
    last = now;
    // The owner went elsewhere meanwhile.
    if (frame.value !== pace.frame) pace = { frame: frame.value, time: open.times[frame.value]! };
    const from = pace.frame;
    pace = paced(pace, passed, open.times, stride.value, isThere);
    frame.value = pace.frame;
    // After a longer wait, on a page that nobody saw, frames were left out.
    if (pace.frame > from && waited <= LONGEST_BREAK) onShown(from, pace.frame);
    if (pace.frame >= open.times.length - 1) return stop();
    requestAnimationFrame(tick);
  };
  requestAnimationFrame(tick);
}
