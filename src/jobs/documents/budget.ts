import { z } from 'zod';
import type { budgetDocument } from '../budget.js';
import type { Agree } from './agree.js';
import { count } from './pieces.js';

const amount = z.number().min(0);
const between = z
  .strictObject({ value: amount, low: amount, high: amount })
  .describe('and how low and how high it may be, by what is not known exactly');

/** budget --json */
export const budgetSchema = z.strictObject({
  camera: z.string().describe('its name'),
  batteryHours: between.describe('hours that the battery lasts while the camera is on'),
  cardDays: z
    .strictObject({
      value: amount.nullable().describe('null: at so few photos it is never full'),
      low: amount,
      high: amount.nullable().describe('null: it may never be full'),
    })
    .nullable()
    .describe('days out until the card is full; null: no photo is taken, nor may be'),
  photosPerDay: between.describe('to look through each evening'),
  first: z.enum(['battery', 'card']).describe('what ends first'),
  sure: z.boolean().describe('whether it does at both ends of what both may be'),
  endsAfterDays: between.describe('days out until the first of them ends'),
  hoursOut: z.number().gt(0).describe('a day'),
  photosPerHour: between.describe('while the camera is out'),
  photoMB: between.describe('of a photo on average, in 10^6 bytes; low and high: what the mean may be'),
  wattHours: between.describe('that reach the camera'),
  watts: amount.describe('drawn on average'),
  inCold: z
    .array(
      z.strictObject({
        celsius: z.number().describe('of the battery'),
        capacity: z.number().describe('share that is left of it; common practice'),
        batteryHours: amount,
      }),
    )
    .describe('the battery in the cold'),
  measured: z
    .strictObject({
      photos: count,
      mean: amount.describe('MB, as all sizes here'),
      deviation: amount.nullable().describe('standard deviation of single ones; null: there is one only'),
      low: amount.describe('one in twenty is smaller'),
      high: amount.describe('one in twenty is larger'),
    })
    .nullable()
    .describe("the owner's own photos; null: none were given"),
  assumed: z.array(z.string()).describe('a line for each figure that stood in for one that nobody gave'),
  notes: z.array(z.string()).describe('what should be known of it'),
});

true satisfies Agree<typeof budgetSchema, ReturnType<typeof budgetDocument>>;
