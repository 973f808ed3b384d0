import { figure } from './wording.js';

/** Beaufort 6, 8 mm/h, 20 lux. */
export function strengthName(condition: string, strength: number): string {
  if (condition === 'wind') return `Beaufort ${figure(strength)}`;
  return `${figure(strength)} ${condition === 'rain' ? 'mm/h' : 'lux'}`;
}
