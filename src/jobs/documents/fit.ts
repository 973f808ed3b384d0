import { z } from 'zod';
import { cameraSchema } from '../../camera/description.js';
import type { fitDocument } from '../fit.js';
import type { Agree } from './agree.js';
import { count, path, settings, share } from './pieces.js';

const whileBusy = z.enum(['continues', 'frozen', 'restarts']);
const span = z
  .strictObject({ from: z.number(), to: z.number() })
  .describe('from the least to the most that does');

const agreement = {
  f1: share.describe('harmonic mean of precision and recall, fired times matched one to one'),
  matched: count,
  extra: count.describe('predicted, but not fired'),
  missing: count.describe('fired, but not predicted'),
};

/** fit --json */
export const fitSchema = z.strictObject({
  clip: path,
  camera: cameraSchema.describe('a camera file that can be used as it stands'),
  settings: settings.describe('a settings file that can be used as it stands, engine values'),
  offset: z
    .number()
    .describe(
      "seconds by which the camera's times lie after those of the clip: shutter lag and what its clock is ahead, together",
    ),
  drift: z.number().describe("seconds an hour that the camera's clock gains"),
  agreement: z
    .strictObject({
      ...agreement,
      tolerance: z.number().gt(0).describe('seconds within which a predicted time is right'),
    })
    .describe('of the description found with the times on the clip'),
  moments: z
    .array(
      z.strictObject({
        time: z.number().describe('seconds on the clip'),
        is: z
          .enum(['matched', 'missing', 'extra'])
          .describe('fired and predicted, at its fired time; fired only; predicted only'),
      }),
    )
    .describe('every fired time on the clip, by the offset found, and every predicted one'),
  seconds: z.number().gt(0).describe('how long the clip is'),
  asGiven: z
    .strictObject({
      settings: z
        .strictObject({
          threshold: z.number(),
          minimumArea: z.number(),
          mostChanged: z.number(),
          persistence: z.number(),
          cooldown: z.number(),
        })
        .describe('engine values'),
      controls: z
        .record(z.string(), z.number())
        .describe('positions of its dials that give them, where there are such'),
      isWhole: z
        .boolean()
        .describe('whether the settings were given too; else its dials were turned to where they agree best'),
      agreement: z.strictObject(agreement),
      offset: z.number().describe('seconds, by which it agrees best'),
    })
    .nullable()
    .describe('how the camera given fires as it stands; null: none was given, or it has no dials to turn'),
  fired: z
    .strictObject({
      given: count.describe('times or photos'),
      triggers: count.describe('that they stand for: photos of one burst are one'),
      onClip: count.describe('of those, within the clip'),
      afterPause: z
        .int()
        .min(0)
        .describe('of those on the clip, the ones that did not come as soon as it could fire again'),
      photosEach: z.int().min(1),
    })
    .describe('what was given'),
  tells: z
    .enum(['enough', 'too few'])
    .describe('too few: below ten triggers on the clip, or below ten of them after a pause'),
  heldOut: share
    .nullable()
    .describe(
      'F1 on the last third of the clip when threshold, area, persistence, cooldown, an upper limit, the way of counting and its clock are chosen by the first two alone, among the few looks (reference, size, smoothing), at the rate, that do best on all of it; null: too few for that, or its reference depends on triggers',
    ),
  equallyGood: z
    .array(
      z.strictObject({
        width: z.int().min(1),
        height: z.int().min(1),
        smooth: z.int().min(0),
        reference: z.union([
          z.strictObject({ kind: z.literal('previous'), lag: z.number(), whileBusy }),
          z.strictObject({ kind: z.literal('average'), seconds: z.number(), whileBusy }),
        ]),
        area: z.enum(['region', 'changed']),
        threshold: span,
        minimumArea: span,
        persistence: span,
        cooldown: span,
        atLeast: z
          .boolean()
          .describe(
            'whether these ranges end where no farther was looked, so that what does as well may reach farther',
          ),
        mostChanged: count
          .nullable()
          .describe('the upper limit that goes with them, pixels; null: none is asked for'),
        f1: share.describe('of the best of them'),
      }),
    )
    .describe(
      'all that explain the times as well, the one chosen among the first; not every mixture within the ranges does',
    ),
  toldApart: z
    .boolean()
    .describe(
      'whether these times, enough of them, leave one description that explains them (F1 of 0.95 and more), with hardly more than one threshold, minimum area and cooldown',
    ),
  record: z
    .string()
    .nullable()
    .describe('which recording would tell them apart; null: nothing else does as well'),
  assumed: z.array(z.string()).describe('what was taken to be so'),
  notes: z.array(z.string()).describe('what should be known of it'),
});

true satisfies Agree<typeof fitSchema, ReturnType<typeof fitDocument>>;
