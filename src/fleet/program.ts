import type { z } from 'zod';
import { version } from '../files/version.js';
import type { programSchema } from '../jobs/documents/fleet.js';
import { ENGINE_MEANING } from '../measure/evidence-key.js';
import { WEATHER_MEANING } from '../measure/weather/evidence.js';

/** What answers depend on beside what goes into a job: machines of a fleet must have the same. */
export type Program = z.output<typeof programSchema>;

/** The program that runs here. */
export function ownProgram(): Program {
  return { version: version(), engine: ENGINE_MEANING, weather: WEATHER_MEANING };
}

/** 0.1.0 (engine 2, weather 7) */
export function programText({ version, engine, weather }: Program): string {
  return `${version} (engine ${engine}, weather ${weather})`;
}

export function sameProgram(a: Program, b: Program): boolean {
  return programText(a) === programText(b);
}
