import type { Camera } from '../camera/description.js';
import { type Between, exactly } from './between.js';

/** What feeds a camera, and what that draws. */
export interface Power {
  mAh: number;
  cellVolts: number;
  /** Share of what the cells hold that reaches the camera. */
  efficiency: Between;
  volts: number;
  /** Amperes at `volts` while it takes no photo. */
  idle: number;
  /** That a photo takes on top of that. */
  photoJoules: number;
}

/** From cells through the converter of a power bank: common practice, not measured. */
const usualEfficiency: Between = { value: 0.825, low: 0.8, high: 0.85 };

/**
 * Taken for what camera.json leaves out. The draw is that of the smallest board class while idle, 0.10 A at 5 V, and the
 * 0.25 A that its makers require for a camera module (board maker's documentation); what a photo takes is an assumption.
 */
const usual = { mAh: 10_000, cellVolts: 3.7, volts: 5, idle: 0.35, photoJoules: 5 };

const said: Readonly<Record<keyof typeof usual, (value: number) => string>> = {
  mAh: (v) => `${v} mAh, a power bank of common size`,
  cellVolts: (v) => `${v} V, lithium-ion cells`,
  volts: (v) => `${v} V, as USB has it`,
  idle: (v) =>
    `${v} A, the smallest class of board and a camera module as their makers give them; measure yours`,
  photoJoules: (v) => `${v} J, an assumption; measure yours`,
};

/**
 * A camera's power with nothing left out.
 *
 * An efficiency that camera.json gives within what is common practice may as well be anywhere within it, for nobody
 * measures it to a hundredth; one outside was measured, and is taken as it is.
 * @returns also a line for each figure that stood in for one that camera.json leaves out, and one that says of a figure it
 * gives that it was taken to be a range
 */
export function powerOf({ power = {} }: Pick<Camera, 'power'>): {
  power: Power;
  assumed: string[];
  widened: string | null;
} {
  const names = Object.keys(usual) as (keyof typeof usual)[];
  const assumed = names.flatMap((name) =>
    power[name] === undefined ? [`power.${name}: ${said[name](usual[name])}`] : [],
  );
  const { efficiency } = power;
  const { low, high } = usualEfficiency;
  const between =
    efficiency === undefined
      ? usualEfficiency
      : efficiency < low || efficiency > high
        ? exactly(efficiency)
        : { value: efficiency, low, high };
  if (efficiency === undefined) assumed.push(`power.efficiency: ${low} to ${high}, common practice`);
  const given = Object.fromEntries(names.map((name) => [name, power[name] ?? usual[name]]));
  const widened =
    efficiency !== undefined && between.low < between.high
      ? `power.efficiency ${efficiency} is taken as ${low} to ${high}: that is common practice, and it is seldom known more exactly`
      : null;
  return { power: { ...(given as typeof usual), efficiency: between }, assumed, widened };
}

/** Watt-hours that reach the camera: mAh / 1000 * volts of the cells * efficiency. */
export function wattHours({ mAh, cellVolts, efficiency }: Power): Between {
  const held = (mAh / 1000) * cellVolts;
  return { value: held * efficiency.value, low: held * efficiency.low, high: held * efficiency.high };
}

/** Watts on average while so many photos an hour are taken. */
export function watts({ volts, idle, photoJoules }: Power, photosPerHour: number): number {
  return volts * idle + (photosPerHour * photoJoules) / 3600;
}

/** Hours that a battery lasts: the fewest with the poorest efficiency and the most photos, and the other way round. */
export function batteryHours(power: Power, photosPerHour: Between): Between {
  const held = wattHours(power);
  return {
    value: held.value / watts(power, photosPerHour.value),
    low: held.low / watts(power, photosPerHour.high),
    high: held.high / watts(power, photosPerHour.low),
  };
}

/**
 * Photos an hour that a battery leaves if it must last so many hours, by the poorest efficiency, for it is to last: what
 * is left over what the camera draws idle, over the joules of a photo. Infinite where photos take nothing.
 * @returns null where it does not last that long even without a photo
 */
export function photosLeft(power: Power, hours: number): number | null {
  const left = wattHours(power).low / hours - watts(power, 0);
  if (left < 0) return null;
  return power.photoJoules === 0 ? Number.POSITIVE_INFINITY : (left * 3600) / power.photoJoules;
}

/** Amperes at or below which many power banks take it that nothing is plugged in and switch off; common practice. */
const SWITCHES_OFF = 0.1;

/** Whether a power bank may switch itself off while no photo is taken. */
export function maySwitchOff({ idle }: Power): boolean {
  return idle <= SWITCHES_OFF;
}

/** Share of its capacity that a lithium-ion battery gives in the cold: common practice, for new cells and a small draw. */
export const inCold = [
  { celsius: 0, capacity: 0.8 },
  { celsius: -10, capacity: 0.6 },
] as const;
