import { z } from 'zod';
import { cameraVerdicts } from '../../tune/cameras.js';
import type { CamerasCompared } from '../tune/cameras-told.js';
import type { Agree } from './agree.js';
import { choice, count, path, span } from './pieces.js';

const amount = z.number().min(0);
const between = z.strictObject({ value: amount, low: amount, high: amount });
const difference = z
  .strictObject({ value: z.number(), low: z.number(), high: z.number() })
  .nullable()
  .describe('with its 90 % interval; null: nothing to compare');
const visitOf = z.strictObject({ clip: path, ...span, name: z.string().nullable() });
const name = z.string().describe("a camera's name; where several have the same, its file");

const verdict = z
  .enum(cameraVerdicts)
  .describe(
    'better, worse: by the goal, the whole interval says so; as good: at worst it gives less by one visit in ten; over the allowance: it takes more photos of nothing for certain, and more than are to be had',
  );

const against = z
  .strictObject({
    gained: z.array(visitOf).describe('visits that only this camera catches'),
    lost: z.array(visitOf).describe('visits that only the first catches'),
    recall: difference,
    nothingPerHour: difference.describe('photos of nothing an hour'),
    given: difference.describe(
      'by the goal, as a share of the visits: where settings are chosen by worth, visits less what photos of nothing come to; else recall',
    ),
  })
  .describe('what this camera adds to the first, which may be below 0');

const taken = {
  visits: count,
  caught: count,
  nothingPerHour: amount.nullable().describe('photos of nothing an hour; null: nothing was watched'),
};

const atSite = z.strictObject({
  site: z.string().nullable(),
  tells: z.enum(['enough', 'hint', 'too little']),
  choice: choice.describe('to use, without a new mask: what tuning this camera alone gives'),
  battery: z
    .strictObject({
      hours: between.nullable().describe('that it lasts so, photos at visits too, by power in its file'),
      photosPerHour: between.nullable(),
    })
    .describe('null: nothing was watched'),
  against: against.nullable().describe('on these clips; null: this is the first'),
  leftOut: z
    .strictObject({
      how: z.enum(['leave one clip out', 'blocks of time']),
      ...taken,
      against: against.nullable(),
    })
    .nullable()
    .describe(
      'on footage left out in turn, the same for all cameras, with settings chosen without it, such as keep an allowance as likely as not (sure binds what is recommended alone); null: none could be left out',
    ),
  verdict: verdict.nullable().describe('by what was left out; null: this is the first'),
});

export const camerasSchema = z
  .array(
    z.strictObject({
      camera: name,
      file: z.string().nullable(),
      width: count,
      height: count,
      rate: z.number(),
      pixelsPerSecond: amount.describe('that it compares, width times height times rate: a count'),
      work: amount.describe('how many times as many as the first that is'),
      searched: count.describe('groups of settings that were tried'),
      triesAll: z
        .boolean()
        .describe(
          'whether these are all that its dials give: where the reference depends on triggers they are fewer, and what is said against it is not told',
        ),
      sites: z.array(atSite),
      leftOut: z
        .strictObject({ ...taken, against: against.nullable() })
        .nullable()
        .describe('at all sites together'),
      verdict: verdict.nullable(),
    }),
  )
  .describe('where several cameras were given: each of them, the first too, by its dials alone');

export const whichCameraSchema = z
  .strictObject({
    best: name.describe('the one that promises most on all of the footage, by the goal'),
    chosenAnew: z
      .strictObject({
        ...taken,
        against,
        times: z.array(z.strictObject({ camera: name, times: count })).describe('how often each was chosen'),
      })
      .nullable()
      .describe(
        'what comes of choosing a camera so: each piece of footage photographed by the camera that promised most on all the rest',
      ),
    verdict: z
      .enum([...cameraVerdicts, 'keep'])
      .describe('whether that serves better than the first; keep: the first promises most itself'),
    enough: name
      .nullable()
      .describe('the camera that compares the fewest pixels, fewer than the first, and serves as well'),
    samePower: z
      .boolean()
      .describe('all have the same figures in power: what a smaller comparison saves is not known'),
  })
  .describe('where several cameras were given');

true satisfies Agree<typeof camerasSchema, CamerasCompared['cameras']>;
true satisfies Agree<typeof whichCameraSchema, CamerasCompared['whichCamera']>;
