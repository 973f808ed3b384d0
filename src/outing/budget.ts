import { type Between, times } from './between.js';
import { cardDays, type Days, type Storage } from './card.js';
import { batteryHours, inCold, type Power, wattHours, watts } from './power.js';

/** How long battery and card last, and how many photos a day brings. */
export interface Budget {
  /** While the camera is on. */
  batteryHours: Between;
  /** Days out; null where no photo is taken, nor may be. */
  cardDays: Days | null;
  photosPerDay: Between;
  /** What ends first. */
  first: 'battery' | 'card';
  /** Whether it ends first whatever the figures are, of what they may be. */
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
  const full = card?.value ?? null;
  const first = full !== null && full < battery.value ? 'card' : 'battery';
  return {
    batteryHours: hours,
    cardDays: card,
    photosPerDay,
    first,
    sure: isSure(first, power, storage, photosPerHour),
    endsAfterDays: {
      value: Math.min(battery.value, full ?? battery.value),
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

/**
 * Whether what ends first does so at the other end of all ranges too. Both feel the same photos an hour, and the more there
 * are, the sooner the card is full against the battery: a battery is held against the card at the most photos, a card against
 * the battery at the fewest.
 */
function isSure(
  first: Budget['first'],
  power: Power,
  { cardGB, photoMB }: Storage,
  { low, high }: Between,
): boolean {
  const held = wattHours(power);
  const photos = (MB: number) => (cardGB * 1000) / MB;
  return first === 'battery'
    ? (held.high / watts(power, high)) * high <= photos(photoMB.high)
    : photos(photoMB.low) <= (held.low / watts(power, low)) * low;
}
