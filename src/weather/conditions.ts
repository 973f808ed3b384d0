import type { Conditions } from './setup.js';

/** Where the kinds of weather part: Beaufort number, mm/h, lux. */
export const WINDY_FROM = 4;
export const WET_FROM = 0.1;
export const DARK_BELOW = 50;

export const conditionNames = ['calm', 'wind', 'rain', 'low light'] as const;
export type Condition = (typeof conditionNames)[number];

/**
 * The conditions a clip was recorded in: wind from Beaufort 4, rain from 0.1 mm/h, low light below 50 lux, several at
 * once, else calm. None at all where nothing is known of it.
 */
export function conditionsOf(conditions: Conditions | null): Condition[] {
  if (!conditions) return [];
  const found: Condition[] = [];
  if ((conditions.wind ?? 0) >= WINDY_FROM) found.push('wind');
  if ((conditions.rain ?? 0) >= WET_FROM) found.push('rain');
  if ((conditions.light ?? Number.POSITIVE_INFINITY) < DARK_BELOW) found.push('low light');
  return found.length > 0 ? found : ['calm'];
}
