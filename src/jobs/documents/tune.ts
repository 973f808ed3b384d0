import { z } from 'zod';
import { conditionNames } from '../../weather/conditions.js';
import type { SiteResult } from '../tune.js';
import type { Agree } from './agree.js';
import {
  choice,
  controls,
  count,
  maskedSettings,
  path,
  polygon,
  score,
  share,
  span,
  stretch,
} from './pieces.js';

const perHour = z.number().min(0);
const gain = z.number();

const byCondition = z.strictObject({
  condition: z.enum(conditionNames),
  clips: z.array(path),
  source: z.enum(['recorded', 'simulated']),
  choice: choice
    .nullable()
    .describe('null: simulated with fewer than 20 visits, too few to rest other dials on'),
  strengths: z.exactOptional(
    z
      .array(
        z.strictObject({
          strength: z.number().describe('Beaufort number, mm/h or lux'),
          recall: share.nullable(),
          falsePerHour: perHour.nullable(),
        }),
      )
      .describe(
        'only where it is simulated: how the choice, or else the recommended settings, do at each strength',
      ),
  ),
});

const weather = z.strictObject({
  one: choice.describe('to leave in place for all of it'),
  changing: z
    .strictObject({ value: gain, low: gain, high: gain })
    .nullable()
    .describe(
      'what changing settings with the weather would add to recall (by worth: what comes to as many visits, as a share), with its 90 % interval',
    ),
  worthIt: z.boolean(),
});

const doubts = z
  .array(
    z.strictObject({
      sway: z.number().describe('of branches, against what is assumed'),
      controls,
      flips: z.boolean().describe('whether the advice for wind would be another'),
    }),
  )
  .describe('the advice for simulated wind, were branches to sway otherwise than assumed');

const difference = z
  .strictObject({ value: z.number(), low: z.number(), high: z.number() })
  .nullable()
  .describe('with its 90 % interval; null: nothing to compare');
const visitOf = z.strictObject({ clip: path, ...span, name: z.string().nullable() });
const now = z
  .strictObject({
    settings: maskedSettings,
    controls: controls.nullable().describe('null where a value stands at no position of its dial'),
    score,
    against: z.strictObject({
      gained: z.array(visitOf).describe('visits that only the recommended settings catch'),
      lost: z.array(visitOf).describe('visits that only these catch'),
      recall: difference,
      falsePerHour: difference,
    }),
    assumed: z.boolean().describe('nobody said what is used: each dial at its middle, the lower of two'),
    unnamed: controls.describe('dials that the file of --now does not name, and where each then stands'),
  })
  .describe('what is used today against what is recommended');
const tells = z
  .enum(['enough', 'hint', 'too little'])
  .describe('too little: do not act on what is recommended');

const simulation = z.strictObject({
  clip: path,
  sample: stretch.describe('what of the clip the weather was put onto'),
  visits: count.describe('within the sample'),
  assumed: z.array(z.string()),
  defaults: z.array(z.string()).describe('used for what neither clip.json nor the camera says'),
});

const site = {
  site: z.string().nullable().describe('as clip.json names it'),
  clips: z.array(path),
  tells,
  now,
  searched: count.describe('groups of settings that were tried'),
  allowance: z
    .strictObject({
      falsePerHour: perHour,
      kept: z.boolean().describe('whether any settings keep it'),
      hoursNeeded: z.number().nullable().describe('watched hours before it can be told at all; null: never'),
      sure: z
        .number()
        .nullable()
        .describe('with what probability it was asked to be kept; null: as likely as not'),
    })
    .nullable(),
  worth: z
    .strictObject({ photos: z.number().describe('of nothing that one more visit is worth looking through') })
    .nullable(),
  best: choice.describe('on these clips: the highest recall within the allowance'),
  recommended: choice.describe(
    'to use: chosen to hold on footage not seen; its settings may hold a mask that the labels do not',
  ),
  mask: z
    .strictObject({
      polygons: z.array(polygon).describe('to be added to what the labels mask'),
      withoutIt: choice.describe('to use without it'),
      provedOn: z.literal('footage left out'),
    })
    .nullable()
    .describe('a mask that is worth adding; null: none is proved'),
  byCondition: z.array(byCondition).describe('each kind of weather by itself'),
  weather: weather.nullable().describe('null: fewer than two kinds of weather were recorded'),
  doubts,
  simulations: z.array(simulation),
  notches: z
    .array(z.strictObject({ dial: z.string(), position: z.number(), score }))
    .describe('one notch on each dial away from what is recommended'),
  front: z
    .array(
      z.strictObject({
        settings: maskedSettings.describe('under the mask of what is recommended'),
        byLuck: count.nullable().describe('of the visits caught; null: no box tells'),
        recall: share.nullable(),
        precision: share.nullable(),
        falsePerHour: perHour.nullable(),
      }),
    )
    .describe('the most visits for each price in false triggers'),
};
const siteSchema = z.strictObject(site);

/** tune --json: with one site, its fields stand at the top as well. */
export const tuneSchema = z.strictObject({
  ...siteSchema.partial().shape,
  tells,
  sites: z.array(siteSchema).min(1).describe('clips of one site each'),
});

true satisfies Agree<typeof siteSchema, SiteResult>;
