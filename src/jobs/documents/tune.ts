import { z } from 'zod';
import type { SiteResult } from '../tune.js';
import type { Agree } from './agree.js';
import { camerasSchema, whichCameraSchema } from './cameras.js';
import { choice, controls, count, maskedSettings, path, polygon, score, share, span } from './pieces.js';
import { byCondition, doubts, limit, rain, simulation, weather } from './tune-weather.js';

const perHour = z.number().min(0);

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
      byLuck: z
        .strictObject({ gained: count, lost: count })
        .nullable()
        .describe(
          'how many of those were caught by luck alone: something else fired while the animal was there; null: no visit has a box to tell by',
        ),
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

const site = {
  site: z.string().nullable().describe('as clip.json names it'),
  clips: z.array(path),
  tells,
  now,
  ends: z
    .array(
      z.strictObject({
        dial: z.string(),
        position: z.number(),
        inward: z
          .enum(['worse', 'unknown'])
          .describe('how one notch back does on these clips; unknown: it was not tried'),
      }),
    )
    .describe('dials that stand where they end and bound what is recommended: beyond that nothing was tried'),
  photosPerTrigger: z.int().min(1).describe('that the camera takes'),
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
      hoursToBeSure: z
        .number()
        .nullable()
        .describe(
          'watched hours without a false trigger that it takes to be so sure; null: not asked for, or never',
        ),
      reached: z
        .number()
        .nullable()
        .describe(
          'the probability with which what is recommended keeps it on as much footage again, less than sure where the footage cannot show more, or no settings do; null: not asked for',
        ),
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
  rain,
  limit,
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
        byBouts: z
          .strictObject({ low: z.number(), high: z.number() })
          .nullable()
          .describe('the 90 % interval of false triggers an hour, with bunches of them as the units'),
      }),
    )
    .describe('the most visits for each price in false triggers'),
};
const amount = z.number().min(0);
const hours = z.strictObject({ value: amount, low: amount, high: amount });
const siteSchema = z.strictObject(site);

/** tune --json: with one site, its fields stand at the top as well. */
export const tuneSchema = z.strictObject({
  ...siteSchema.partial().shape,
  tells,
  sites: z.array(siteSchema).min(1).describe('clips of one site each'),
  battery: z
    .strictObject({
      asked: z.number().gt(0).describe('hours that it is to last'),
      reckoned: z.string().describe('what it leaves for photos, and from which figures'),
      assumed: z.array(z.string()).describe('a line for each figure that camera.json leaves out'),
      sites: z.array(
        z.strictObject({
          site: z.string().nullable(),
          hours: hours.nullable().describe('that it lasts with what is recommended, photos at visits too'),
          photosPerHour: hours.nullable().describe('those at visits too; null: nothing was watched'),
        }),
      ),
    })
    .optional()
    .describe('where it was said how long it is to last'),
  cameras: camerasSchema.optional(),
  whichCamera: whichCameraSchema.optional(),
});

true satisfies Agree<typeof siteSchema, SiteResult>;
