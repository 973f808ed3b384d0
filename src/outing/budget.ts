import type { Between } from './between.js';
import { cardDays, type Days, type Storage } from './card.js';
import { batteryHours, inCold, type Power, wattHours, watts } from './power.js';

/** How long battery and card last, and how many photos a day brings. */
export interface Budget {
  /** While the camera is on. */
  batteryHours: Between;
  /** Days out; null where no photo is taken. */
  cardDays: Days | null;
  photosPerDay: Between;
  /** What ends first. */
  first: 'battery' | 'card';
  /** Whether it ends first however large the figures are, of what they may be. */
  sure: boolean;
  /** Days out until then. */
  endsAfterDays: Between;
  hoursOut: number;
  photosPerHour: Between;
  photoMB: Between;
  /** That reach the camera. */
  wattHours: Between;
  /** On average. */
  watts: number;
  /** What is left of the battery in the cold; common practice. */
  inCold: { celsius: number; capacity: number; batteryHours: number }[];
}

/**
 * Battery and card against each other.
 * @param photosPerHour while the camera is out
 * @param hoursOut hours a day that it is out; the rest of the day it is taken to be switched off
 */
export function budgetOf(power: Power, storage: Storage, photosPerHour: Between, hoursOut: number): Budget {
  const hours = batteryHours(power, photosPerHour);
  const photosPerDay = times(photosPerHour, hoursOut);
  const card = cardDays(storage, photosPerDay);
  const battery = times(hours, 1 / hoursOut);
  const first = card && card.value < battery.value ? 'card' : 'battery';
  const [sooner, later] = first === 'card' && card ? [card, battery] : [battery, card];
  return {
    batteryHours: hours,
    cardDays: card,
    photosPerDay,
    first,
    sure: later === null || (sooner.high !== null && sooner.high <= later.low),
    endsAfterDays: {
      value: sooner.value,
      low: Math.min(battery.low, card?.low ?? battery.low),
      high: Math.min(battery.high, card?.high ?? battery.high),
    },
    hoursOut,
    photosPerHour,
    photoMB: storage.photoMB,
    wattHours: wattHours(power),
    watts: watts(power, photosPerHour.value),
    inCold: inCold.map(({ celsius, capacity }) => ({
      celsius,
      capacity,
      batteryHours: hours.value * capacity,
    })),
  };
}

function times({ value, low, high }: Between, factor: number): Between {
  return { value: value * factor, low: low * factor, high: high * factor };
}
