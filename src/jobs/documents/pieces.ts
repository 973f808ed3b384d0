import { z } from 'zod';
import type { Settings } from '../../camera/settings.js';
import type { Box, SettingsOut } from '../../diagnose/diagnosis.js';
import type { Polygon } from '../../engine/mask.js';
import type { Rate, Ratio } from '../../score/intervals.js';
import type { Score } from '../../score/score.js';
import type { Stretch } from '../../score/stretches.js';
import type { Choice } from '../../tune/site-result.js';
import type { Unseen } from '../../tune/tune.js';
import type { Agree } from './agree.js';

/** What documents of --json are made of. Times are seconds from the clip's start, intervals hold 90 %. */

export const count = z.int().min(0);
export const share = z.number().min(0).max(1);
export const seconds = z.number().min(0);
const perHour = z.number().min(0);
export const path = z.string().describe('as it was given');
export const visit = count.describe("place among the clip's animal visits, from 0, in order of start");
export const span = { start: seconds, end: seconds };
export const stretch = z.strictObject(span);

const bouts = z.exactOptional(
  z
    .strictObject({
      low: z.number().min(0),
      high: z.number().min(0),
      n: count.describe('bunches of triggers'),
    })
    .describe('the interval with bunches of triggers, within 30 s, as the units'),
);

export const ratio = z
  .strictObject({ value: share, low: share, high: share, n: count.describe('what it is a share of'), bouts })
  .describe('a share with its 90 % interval (Wilson)');

export const rate = z
  .strictObject({
    value: perHour,
    low: perHour,
    high: perHour,
    n: count.describe('the count it rests on'),
    bouts,
  })
  .describe('a rate per watched hour with its 90 % interval (exact Poisson)');

export const score = z
  .strictObject({
    visits: count,
    caught: count.describe('visits of which a photo was taken, by luck or not'),
    byLuck: count
      .nullable()
      .describe(
        'of those caught, how many by luck: each time the camera fired for the visit, nothing within its box in labels.json would have fired it, so something else did. Visits without a box are not among them. null: it cannot be told, for no visit has a box, the reference depends on the triggers, or it is a check',
      ),
    trueTriggers: count,
    falseTriggers: count,
    ignoredTriggers: count.describe('in time that does not count'),
    watchedHours: z.number().min(0).describe('outside visits and ignored time'),
    precision: ratio
      .nullable()
      .describe('of the triggers that count, those that are true; null: there are none'),
    recall: ratio.nullable().describe('of the visits, those caught; null: there are none'),
    falsePerHour: rate.nullable().describe('null: nothing was watched'),
  })
  .describe('how well settings did');

const engineValues = {
  threshold: z.number().describe('grey levels'),
  minimumArea: z.number().describe('pixels at the analysis size'),
  mostChanged: z.number().describe('pixels at the analysis size'),
  persistence: z.number().describe('analysed frames in a row'),
  cooldown: z.number().describe('seconds'),
};
const version = z.literal(1);
export const settings = z
  .strictObject({ version, ...engineValues })
  .describe('engine values, as a settings file has them');

export const polygon = z
  .array(z.tuple([z.number(), z.number()]))
  .describe('corners x, y as fractions of the frame');
export const maskedSettings = z
  .strictObject({ version, ...engineValues, mask: z.exactOptional(z.array(polygon)) })
  .describe('a settings file that can be used as it stands');

export const box = z
  .tuple([z.number(), z.number(), z.number(), z.number()])
  .describe('x, y, width, height as fractions of the frame, from the upper left');

export const controls = z
  .record(z.string(), z.number())
  .describe("positions of the camera's dials by their names");

export const unseen = z
  .strictObject({
    how: z.enum(['leave one clip out', 'blocks of time', 'too little to tell']),
    recall: z
      .strictObject({ value: share, low: share, high: share, n: count })
      .nullable()
      .describe('over n more visits in like conditions'),
    falsePerHour: z
      .strictObject({ value: perHour, low: perHour, high: perHour, hours: z.number().gt(0) })
      .nullable()
      .describe('over so many more watched hours'),
    moreVisits: count.describe('about how many more to label, where there is too little to tell'),
  })
  .describe(
    'what may be expected on footage not seen: 90 % predictions; settings are chosen anew for it, a new mask is not: it is the one chosen on all of the footage',
  );

export const choice = z.strictObject({ settings: maskedSettings, controls, score, unseen });

true satisfies Agree<typeof stretch, Stretch>;
true satisfies Agree<typeof ratio, Ratio>;
true satisfies Agree<typeof rate, Rate>;
true satisfies Agree<typeof score, Score>;
true satisfies Agree<typeof settings, Settings & { version: 1 }>;
true satisfies Agree<typeof polygon, Polygon>;
true satisfies Agree<typeof maskedSettings, SettingsOut>;
true satisfies Agree<typeof box, Box>;
true satisfies Agree<typeof unseen, Unseen>;
true satisfies Agree<typeof choice, Choice>;
