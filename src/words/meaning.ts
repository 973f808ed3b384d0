import type { EngineValue } from '../camera/dials.js';
import { plural, tidy } from './wording.js';

/** What an engine value asks of a frame, for those who turn a dial: a pixel must change by 32 of 255. */
export function meaningText(sets: EngineValue, value: number): string {
  const pixels = plural(Number(tidy(value)), 'pixel');
  switch (sets) {
    case 'threshold':
      return `a pixel must change by ${tidy(value)} of 255`;
    case 'minimumArea':
      return `${pixels} must change`;
    case 'mostChanged':
      return `no more than ${pixels} may change`;
    case 'persistence':
      return value === 1 ? 'one frame is enough' : `in ${value} frames in a row`;
    case 'cooldown':
      return `${tidy(value)} s until it can fire again`;
  }
}
