import { z } from 'zod';
import type { eveningDocument } from '../evening.js';
import type { Agree } from './agree.js';
import { count, ratio } from './pieces.js';

const amount = z.number().min(0);
const between = z.strictObject({ value: amount, low: amount, high: amount });
const bouts = z.exactOptional(
  z
    .strictObject({ low: amount, high: amount, n: count })
    .describe('the interval with bunches of photos, within 30 s, as the units'),
);
const rate = z
  .strictObject({
    value: amount,
    low: amount,
    high: amount,
    n: count.describe('the count it rests on'),
    bouts,
  })
  .nullable()
  .describe(
    'photos of nothing an hour with the 90 % interval (exact Poisson), which holds whatever photos not marked show; null: no time was watched',
  );
const tally = {
  photos: count,
  animal: count,
  nothing: count,
  person: count,
  unmarked: count.describe('that nobody has marked'),
  precision: ratio
    .nullable()
    .describe('of the photos of animals and of nothing, those of animals; null: there are none'),
};
const moment = z.string().describe("by the camera's own clock, without a zone");
const conditions = z.array(z.string()).nullable().describe('weather that a plan foretold; null: none');
const part = z.strictObject({
  from: moment,
  until: moment,
  conditions,
  hours: amount.describe('that the camera was out, of all days'),
  ...tally,
  nothingPerHour: rate,
  promised: between.nullable().describe('photos of nothing an hour; null: nothing was promised'),
  chance: z
    .number()
    .nullable()
    .describe('of so many of nothing, or more, were the promise true; null: nothing was promised'),
});

/** evening --json */
export const eveningSchema = z.strictObject({
  ...tally,
  withoutTime: count.describe('photos whose time neither EXIF nor the name tells'),
  outside: count.describe('photos before or after the hours given, which count nowhere'),
  out: z
    .strictObject({
      from: moment,
      until: moment,
      said: z
        .strictObject({ from: z.boolean(), until: z.boolean() })
        .describe('else the photos there stand in'),
      hours: amount.describe(
        'photos an hour are counted over fewer where nobody said when it began or ended: what the first and the last bunch of photos take is left out',
      ),
    })
    .nullable()
    .describe('null: no two photos tell how long the camera was out'),
  nothingPerHour: rate,
  byHour: z.array(part).describe('hours of the day, those of all days together'),
  byStretch: z.array(part).nullable().describe('stretches of a plan, and what lies between; null: no plan'),
  byCondition: z
    .array(z.strictObject({ conditions: z.string(), hours: amount, ...tally, nothingPerHour: rate }))
    .nullable()
    .describe('by the weather that a plan foretold; null: no plan'),
  promised: z
    .strictObject({
      kind: z.enum(['tune', 'plan']),
      site: z.string().nullable(),
      withheld: z
        .enum(['photos a trigger not known', 'other photos a trigger', 'clock not known', 'promise too wide'])
        .nullable()
        .describe(
          "why the photos are not held against it: nobody says how many a trigger brings; they come otherwise than it was made for; the plan is in UTC, and nobody says what the camera's clock shows; the promise is so wide that hardly anything could keep or break it, and was not broken. null: they are",
        ),
      photosPerTrigger: z.int().min(1).nullable().describe('that a promise in triggers was taken for'),
      nothingPerHour: between
        .nullable()
        .describe('photos of nothing an hour, 90 %; null: nothing was promised for these hours'),
      came: rate,
      hours: amount.describe('out, for which something was promised'),
      hoursWithout: amount.describe('out, for which nothing was'),
      hoursToTell: amount
        .nullable()
        .describe('about how many would tell, were it as promised; null: it is told, or a month would not'),
      untold: count.describe('photos that may be of nothing in those hours: not marked, or of no known time'),
    })
    .nullable()
    .describe('null: no promise was given'),
  verdict: z
    .enum(['held', 'better', 'worse', 'too little to tell'])
    .nullable()
    .describe(
      'worse, better: so many, so few photos of nothing would come at most once in twenty were the promise true; held: neither, and the 90 % interval by bouts ends below what was promised, or twice its value, and reaches half its value; null: no promise was given, or it is withheld',
    ),
  next: z
    .strictObject({
      from: moment,
      until: moment,
      conditions,
      why: z.enum(['came oftener than promised', 'nothing was promised', 'most of nothing', 'least told']),
    })
    .nullable()
    .describe('which stretch to record next'),
  assumed: z.array(z.string()).describe('what stood in for what nobody said'),
  notes: z.array(z.string()).describe('what should be known of it'),
  files: z.strictObject({
    folder: z.string(),
    found: count.describe('photos in it'),
    sheet: z.string().nullable(),
    marks: z.string().nullable().describe('written to be filled in'),
    report: z.string().nullable(),
  }),
});

true satisfies Agree<typeof eveningSchema, ReturnType<typeof eveningDocument>>;
