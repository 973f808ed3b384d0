import { signal } from '@preact/signals';

/** Seconds that the window around now holds, at least and at most. */
const NARROWEST = 2;
export const WIDEST = 3600;

/** Seconds that the window around now holds; a shorter clip is shown whole. */
export const wide = signal(32);

export function widen(times: number): void {
  wide.value = Math.min(WIDEST, Math.max(NARROWEST, wide.value * times));
}
