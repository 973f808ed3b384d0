import { figure, significant } from '../base/figures.js';
import type { EngineValue } from '../camera/dials.js';
import type { Between } from '../outing/between.js';

export { clock, figure, plural } from '../base/figures.js';
export type { Between };

/** 79 % (66–88) */
export function percentBetween({ value, low, high }: Between): string {
  const percent = (x: number) => Math.round(100 * x);
  return `${percent(value)} % (${percent(low)}–${percent(high)})`;
}

/** 4.8 (0.9–15) */
export function figureBetween({ value, low, high }: Between): string {
  return `${figure(value)} (${figure(low)}–${figure(high)})`;
}

/** 1.4 watched hours; 12 watched minutes. */
export function watched(hours: number): string {
  const [n, unit] =
    hours >= 1 ? [hours, 'hour'] : hours * 60 >= 1 ? [hours * 60, 'minute'] : [hours * 3600, 'second'];
  return `${figure(n)} watched ${unit}${figure(n) === '1' ? '' : 's'}`;
}

/** sensitivity 7, minimumArea 100, cooldown 10 */
export function dialsText(controls: Record<string, number>): string {
  return Object.entries(controls)
    .map(([name, position]) => `${name} ${position}`)
    .join(', ');
}

/** What an engine value says, with its unit. */
export function engineText(sets: EngineValue, value: number): string {
  switch (sets) {
    case 'threshold':
      return `threshold ${tidy(value)} grey levels`;
    case 'minimumArea':
      return `at least ${tidy(value)} pixels`;
    case 'mostChanged':
      return `at most ${tidy(value)} pixels`;
    case 'persistence':
      return value === 1 ? 'one frame is enough' : `${value} frames in a row`;
    case 'cooldown':
      return `${tidy(value)} s until it can fire again`;
  }
}

/** As short as a number can be told apart from its neighbours on a dial. */
export function tidy(x: number): string {
  return significant(x, 6);
}
