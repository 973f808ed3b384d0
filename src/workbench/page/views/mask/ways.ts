import type { Point } from './shapes.js';

/** How far an arrow key goes at a press, and with Shift: fractions of the frame. */
const STEP = 0.01;
const LONG_STEP = 0.05;
/** The way an arrow key goes; null for other keys. */
export function way({ key, shiftKey }: KeyboardEvent): Point | null {
  const by = shiftKey ? LONG_STEP : STEP;
  switch (key) {
    case 'ArrowLeft':
      return [-by, 0];
    case 'ArrowRight':
      return [by, 0];
    case 'ArrowUp':
      return [0, -by];
    case 'ArrowDown':
      return [0, by];
    default:
      return null;
  }
}

/** 25 % */
export function percent(part: number): string {
  return `${Math.round(100 * part)} %`;
}
