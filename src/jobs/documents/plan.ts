import { z } from 'zod';
import { conditionNames } from '../../weather/conditions.js';
import type { planDocument } from '../plan.js';
import type { Agree } from './agree.js';
import { controls, count, maskedSettings, path, share } from './pieces.js';

const amount = z.number().min(0);
const shares = z.strictObject({ value: share, low: share, high: share });
const amounts = z.strictObject({ value: amount, low: amount, high: amount });
const gains = z.strictObject({ value: z.number(), low: z.number(), high: z.number() });
const seconds = z.number().min(0);
const moment = z.string().describe("RFC 3339, by the forecast's own clock");
const interval = 'with its 90 % interval; null: nothing is known of such hours';

const stretch = z.strictObject({
  from: moment,
  to: moment,
  hours: count,
  conditions: z.array(z.enum(conditionNames)),
  weather: z.string().describe('the same in words, with how strong it is'),
  controls: controls.nullable().describe('what is advised; null: too dark to be of use'),
  recall: shares.nullable().describe(`share of the visits caught, ${interval}`),
  falsePerHour: amounts.nullable().describe(`false triggers an hour, ${interval}`),
  photosPerHour: amounts.nullable().describe(`photos an hour, those at visits too, ${interval}`),
  source: z
    .enum(['recorded', 'simulated'])
    .nullable()
    .describe('where the figures come from; null: there are none'),
});

const kind = z.strictObject({
  weather: z.string(),
  state: z.enum(['told', 'not known', 'too dark']),
  hours: count,
  clips: z.array(path).describe('that the figures are of'),
  source: z.enum(['recorded', 'simulated', 'both']).nullable(),
  sample: z
    .strictObject({ clip: path, start: seconds, end: seconds, visits: count })
    .nullable()
    .describe(
      'the stretch of the clip that simulated figures are of, and the visits in it; null: none are simulated',
    ),
  off: z
    .strictObject({ low: amount, high: amount })
    .nullable()
    .describe(
      'multiples of the simulated false triggers between which four fifths of all settings lay in gardens drawn by another renderer; drawings, not recordings. null: none are simulated, or such weather was held against none',
    ),
  recall: shares.nullable(),
  falsePerHour: amounts.nullable(),
});

const dials = { settings: maskedSettings, controls };
const told = {
  recall: shares.nullable(),
  falsePerHour: amounts.nullable(),
  photosOfNothing: amounts.nullable().describe('over all hours of use of which something is known'),
};

const site = z.strictObject({
  site: z.string().nullable().describe('as clip.json names it'),
  clips: z.array(path),
  tells: z.enum(['enough', 'hint', 'too little']).describe('too little: do not act on it'),
  visits: count.describe('that it rests on'),
  photosPerTrigger: z.int().min(1).describe('that the camera takes'),
  allowance: z
    .strictObject({
      falsePerHour: amount,
      kept: z
        .boolean()
        .nullable()
        .describe(
          'whether what is advised keeps it on the footage of each kind of hours, on which it was chosen too; null: nothing breaks it, but of some hours it cannot be told',
        ),
    })
    .nullable()
    .describe('what may be in any hour; null: settings are chosen by worth'),
  stretches: z
    .array(stretch)
    .describe('hours of like weather, like light and like settings, by what is advised'),
  conditions: z.array(kind).describe('all hours by their conditions'),
  kinds: z.array(kind).describe('the same by how strong these are'),
  hours: z.strictObject({ ofUse: count, tooDark: count, notTold: count }),
  week: z.strictObject({
    one: z.strictObject({ ...told, ...dials }).describe('one setting for all hours'),
    changing: z
      .strictObject({
        ...told,
        first: z.strictObject(dials),
        changes: z.array(z.strictObject({ at: moment, ...dials })),
      })
      .describe('changing it where that is expected to be worth a walk'),
    walks: count,
    gain: z
      .strictObject({
        recall: gains.describe('share of the visits more'),
        photosOfNothing: gains.describe('more of them; below 0: fewer'),
        worth: gains.describe('both together in photos of nothing, the walks not counted'),
      })
      .nullable()
      .describe(
        'what the walks buy, tried on footage left out, 90 %; null: there are none, or too little to tell',
      ),
    worthIt: z.boolean().describe('whether that is more than the walks cost, as sure as 90 % make it'),
    holds: z
      .boolean()
      .nullable()
      .describe(
        'whether the advice is the same at either end of how far off simulated weather may be; null: nothing that it rests on is simulated, or how far off is not known',
      ),
  }),
  inUse: z
    .strictObject({ settings: maskedSettings, controls: controls.nullable() })
    .nullable()
    .describe('the settings in use, as a project says; null: nobody said which'),
  limit: z
    .strictObject({
      tells: z.enum(['a limit', 'no limit', 'too little']),
      lux: z.strictObject({
        value: z.number().nullable(),
        low: z.number().nullable(),
        high: z.number().nullable(),
      }),
    })
    .nullable()
    .describe('from which light on it is of use, as in tune; null: no hour is dark, or no place is known'),
  placeKnown: z.boolean().describe('whether clip.json says where it is; else nothing is told of darkness'),
  assumed: z.array(z.string()).describe('what simulated figures rest on'),
  defaults: z.array(z.string()).describe('used for what neither clip.json nor the camera says'),
  notes: z.array(z.string()),
});

/** plan --json */
export const planSchema = z.strictObject({
  from: moment,
  to: moment,
  hours: count,
  worth: amount.describe('photos of nothing that one more visit is worth'),
  walk: amount.describe('photos of nothing that a walk to a camera is worth'),
  awake: z
    .strictObject({ from: amount, until: amount })
    .describe("hours of the day in which somebody may walk there, by the forecast's clock"),
  sites: z.array(site).min(1),
  weather: z
    .array(
      z.strictObject({
        at: moment,
        wind: amount.describe('Beaufort number, gusts counted in'),
        rain: amount.describe('mm/h'),
      }),
    )
    .describe('hour by hour what was foretold'),
});

true satisfies Agree<typeof planSchema, ReturnType<typeof planDocument>>;
