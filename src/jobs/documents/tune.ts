import { z } from 'zod';
import type { TuneResult } from '../../tune/tune.js';
import { conditionNames } from '../../weather/conditions.js';
import type { Agree } from './agree.js';
import { choice, controls, count, path, score, settings, share, stretch } from './pieces.js';

const perHour = z.number().min(0);
const gain = z.number().min(-1).max(1);

const byCondition = z.strictObject({
  condition: z.enum(conditionNames),
  clips: z.array(path),
  source: z.enum(['recorded', 'simulated']),
  choice,
  strengths: z.exactOptional(
    z
      .array(
        z.strictObject({
          strength: z.number().describe('Beaufort number, mm/h or lux'),
          recall: share.nullable(),
          falsePerHour: perHour.nullable(),
        }),
      )
      .describe('how the choice does at each strength; only where it is simulated'),
  ),
});

const weather = z.strictObject({
  one: choice.describe('to leave in place for all of it'),
  changing: z
    .strictObject({ value: gain, low: gain, high: gain })
    .nullable()
    .describe('what changing settings with the weather would add to recall, with its 90 % interval'),
  worthIt: z.boolean(),
  doubts: z
    .array(
      z.strictObject({
        sway: z.number().describe('of branches, against what is assumed'),
        controls,
        flips: z.boolean().describe('whether the advice for wind would be another'),
      }),
    )
    .describe('the advice for simulated wind, were branches to sway otherwise than assumed'),
});

const simulation = z.strictObject({
  clip: path,
  sample: stretch.describe('what of the clip the weather was put onto'),
  visits: count.describe('within the sample'),
  assumed: z.array(z.string()),
  defaults: z.array(z.string()).describe('used for what neither clip.json nor the camera says'),
});

/** tune --json */
export const tuneSchema = z.strictObject({
  searched: count.describe('groups of settings that were tried'),
  allowance: z.strictObject({
    falsePerHour: perHour,
    kept: z.boolean().describe('whether any settings keep it'),
    hoursNeeded: z.number().nullable().describe('watched hours before it can be told at all; null: never'),
  }),
  best: choice.describe('on these clips: the highest recall within the allowance'),
  recommended: choice.describe('to use: chosen to hold on footage not seen'),
  byCondition: z.array(byCondition).describe('each kind of weather by itself'),
  weather: weather.nullable().describe('null: fewer than two kinds of weather'),
  simulations: z.array(simulation),
  notches: z
    .array(z.strictObject({ dial: z.string(), position: z.number(), score }))
    .describe('one notch on each dial away from what is recommended'),
  front: z
    .array(
      z.strictObject({
        settings,
        recall: share.nullable(),
        precision: share.nullable(),
        falsePerHour: perHour.nullable(),
      }),
    )
    .describe('the most visits for each price in false triggers'),
});

true satisfies Agree<typeof tuneSchema, TuneResult>;
