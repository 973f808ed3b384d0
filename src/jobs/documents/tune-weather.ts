import { z } from 'zod';
import { assumptionNames } from '../../weather/assumptions.js';
import { conditionNames } from '../../weather/conditions.js';
import { rainParts } from '../../weather/rain/rain-part.js';
import { choice, controls, count, path, score, share, stretch } from './pieces.js';

const perHour = z.number().min(0);
const gain = z.number();

/** What is best in one kind of weather. */
export const byCondition = z.strictObject({
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
                'false triggers an hour between which four fifths of all settings lay in gardens drawn by another renderer; drawings, not recordings. null: such weather was held against none, or tooFew',
              ),
          ),
          tooFew: z.exactOptional(
            z.literal(true).describe('too few simulated triggers to tell how far off it may be'),
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
        'only where it is simulated: whether the choice would stay, and within what is allowed if it is, at either end of those ranges, were all settings off alike; null: there is no choice, or no range',
      ),
  ),
});

/** Whether settings should change with the weather. */
export const weather = z.strictObject({
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

/** What the advice hangs on of what simulated weather assumes. */
export const doubts = z
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

/** Which part of the rain fires the camera. */
export const rain = z
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
/** The light below which the camera is blind. */
export const limit = z
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

/** What weather was put onto, and on what that rests. */
export const simulation = z.strictObject({
  clip: path,
  sample: stretch.describe('what of the clip the weather was put onto'),
  visits: count.describe('within the sample'),
  assumed: z.array(z.string()),
  defaults: z.array(z.string()).describe('used for what neither clip.json nor the camera says'),
  motionless: z.boolean().describe('wind was left out: nothing is known there that it could move'),
});
