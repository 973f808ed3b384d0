import { z } from 'zod';
import { assumptionNames } from '../../weather/assumptions.js';
import { conditionNames } from '../../weather/conditions.js';
import { rainParts } from '../../weather/rain/rain-part.js';
import type { SiteResult } from '../tune.js';
import type { Agree } from './agree.js';
import { camerasSchema, whichCameraSchema } from './cameras.js';
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
          score: score.describe('the same with its counts and intervals, which are of chance alone'),
          range: z.exactOptional(
            z
              .strictObject({
                low: perHour,
                high: perHour,
                times: z
                  .strictObject({ low: z.number().min(0), high: z.number().min(0) })
                  .describe('the same as multiples of what was simulated'),
              })
              .nullable()
              .describe(
                'false triggers an hour between which four fifths of all settings lay in gardens drawn by another renderer; drawings, not recordings. null: such weather was held against none',
              ),
          ),
          unheldPerHour: z.exactOptional(
            perHour
              .nullable()
              .describe('false triggers an hour with mostChanged all the way up and all else the same'),
          ),
        }),
      )
      .describe(
        'only where it is simulated: how the choice, or else the recommended settings, do at each strength',
      ),
  ),
  holds: z.exactOptional(
    z
      .boolean()
      .nullable()
      .describe(
        'only where it is simulated: whether the choice would stay at either end of those ranges; null: there is no choice, or no range',
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

const asMeasured = { recall: share.nullable(), falsePerHour: perHour.nullable() };

const doubts = z
  .array(
    z.strictObject({
      condition: z.enum(conditionNames),
      assumption: z.enum(assumptionNames).describe('its name'),
      what: z.string(),
      figure: z.number().describe('as assumed'),
      unit: z.string(),
      source: z.string().describe('a publication, or "assumed"'),
      measure: z.string().describe('what to do to know it'),
      times: z.number().describe('what it is multiplied by here'),
      taken: z
        .number()
        .describe('the same as far as the figure can go: nothing is more than all of something'),
      strength: z.number().describe('Beaufort number, mm/h or lux'),
      controls: controls.describe('what would then be best'),
      flips: z
        .boolean()
        .nullable()
        .describe('whether the advice would be another; null: fewer than 20 visits, too few to rest any on'),
      again: z
        .boolean()
        .optional()
        .describe(
          'whether it would in a second drawing of chance as well; only where flips is true, with --doubts',
        ),
      visits: count.describe('in the sample that it was tried on'),
      lost: z
        .number()
        .describe(
          'what the settings advised give less then, by the goal, in visits; below 0: they give more',
        ),
      ...asMeasured,
      asAssumed: z.strictObject(asMeasured).describe('the same settings without that doubt'),
    }),
  )
  .describe(
    'the advice for simulated weather, were one assumption half or twice what it is: recall and false triggers are of the settings advised as it stands; only the sway of branches without --doubts',
  );

const rain = z
  .strictObject({
    strength: z.number().describe('mm/h'),
    falsePerHour: perHour.nullable().describe('in all of it'),
    dry: perHour.nullable().describe('with none of it: what does not come of the rain'),
    parts: z.array(
      z.strictObject({
        part: z.enum(rainParts),
        alone: perHour.nullable().describe('false triggers an hour by it alone'),
        without: perHour.nullable().describe('and by all the others without it'),
      }),
    ),
  })
  .nullable()
  .describe(
    'which part of simulated rain fires the camera, at the settings advised for rain; null without --doubts',
  );

const daytime = z
  .union([z.strictObject({ from: z.string(), until: z.string() }), z.literal('all day')])
  .nullable()
  .describe('by the clock of the recording; null: never');
const limit = z
  .strictObject({
    clip: path,
    leftOut: z
      .array(path)
      .describe('with --together: calm clips of other sites, which light was not taken from'),
    visits: count.describe('in the sample that light was taken from'),
    inWhole: count
      .nullable()
      .describe('in all of the clip, where --doubts and plan would look through it; null: nothing more'),
    inFullLight: count.describe('of them, caught by the best settings within the goal as recorded'),
    fullLight: z.number().describe('lux that it was recorded in; 10,000 where clip.json does not say'),
    tells: z.enum(['a limit', 'no limit', 'too little']).describe('no limit: of use in every light tried'),
    lux: z
      .strictObject({
        value: z.number().nullable().describe('the darkest of use, to a stop; null: none of those tried'),
        low: z.number().nullable().describe('the brightest that is surely of no use, 90 %; null: none'),
        high: z.number().nullable().describe('the darkest that is of use for sure, 90 %; null: none'),
      })
      .describe(
        'of use: the best settings within the goal give at least half of what the best give in full light (visits caught, not by luck; where settings are chosen by worth, less what photos of nothing come to); the 90 % are by the number of visits alone, on light drawn once',
      ),
    levels: z
      .array(
        z.strictObject({
          lux: z.number(),
          caught: count,
          share: z.number().describe('of what is given in full light'),
          low: z.number(),
          high: z.number().describe('90 %'),
        }),
      )
      .describe('each light that was simulated, brightest first'),
    times: z
      .strictObject({
        date: z.string(),
        zone: z.string().describe('offset from UTC'),
        clear: daytime,
        overcast: daytime,
      })
      .nullable()
      .describe('when it is that light in the open, on the day of the recording'),
    missing: z.array(z.string()).describe('fields of clip.json that would tell more'),
  })
  .nullable()
  .describe('the light below which the camera is blind, simulated; null: none was simulated');

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

const simulation = z.strictObject({
  clip: path,
  sample: stretch.describe('what of the clip the weather was put onto'),
  visits: count.describe('within the sample'),
  assumed: z.array(z.string()),
  defaults: z.array(z.string()).describe('used for what neither clip.json nor the camera says'),
  motionless: z.boolean().describe('wind was left out: nothing is known there that it could move'),
});

const site = {
  site: z.string().nullable().describe('as clip.json names it'),
  clips: z.array(path),
  tells,
  now,
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
