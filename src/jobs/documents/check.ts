import { z } from 'zod';
import type { checkDocument } from '../check.js';
import type { Agree } from './agree.js';
import { count, score, seconds, share, span, visit } from './pieces.js';

const clip = z.string().describe('its name in the suite');
const ofClip = clip.nullable().describe('null: all clips together');
const named = z.strictObject({ visit, name: z.string().nullable(), ...span });
const time = z.strictObject({ time: seconds });
const other = z.strictObject({ time: seconds, verdict: z.enum(['true', 'false', 'ignored']) });
const limit = z.enum(['recall', 'falsePerHour']);

const clipChecked = z.strictObject({
  clip,
  verdict: z.enum(['same', 'better', 'worse', 'changed', 'not comparable']),
  why: z.string().nullable().describe('why it is not comparable'),
  maskChanged: z.boolean(),
  before: score.nullable().describe('null: not comparable'),
  now: score.nullable().describe('null: no longer in the suite'),
  lost: z.array(named).describe('visits caught before and missed now'),
  gained: z.array(named),
  newFalse: z.array(time).describe('false triggers that were not there before'),
  goneFalse: z.array(time),
  movedFalse: z
    .array(z.strictObject({ time: seconds, was: seconds }))
    .describe('a little earlier or later: neither new nor gone'),
  newOther: z.array(other).describe('in visits and in ignored time'),
  goneOther: z.array(other),
});

const limitResult = z.strictObject({
  clip: ofClip,
  limit,
  bound: z.number().describe('recall: at least; falsePerHour: at most'),
  value: z.number(),
  interval: z
    .strictObject({ low: z.number(), high: z.number(), n: count })
    .describe('90 %; of false triggers by bouts, of which there are n'),
  holds: z.boolean(),
  accepted: z.boolean().describe('broken, but no worse than somebody accepted'),
});

const test = z.strictObject({
  clip: ofClip,
  of: z.enum(['visits', 'false triggers']),
  worse: count,
  better: count,
  units: count.describe('what counts as one: visits that changed, or bouts of triggers'),
  p: share.describe('two-sided'),
  adjusted: share
    .nullable()
    .describe('for the number of tests; null: too few changes to tell whatever they are'),
  answer: z.enum(['better', 'worse', 'too little to tell']),
});

/** check --json */
export const checkSchema = z.strictObject({
  verdict: z.enum(['holds', 'fails']),
  reasons: z
    .array(z.strictObject({ clip: ofClip, limit: limit.nullable(), text: z.string() }))
    .describe('why it fails'),
  accepted: z
    .strictObject({ before: z.string().nullable(), now: z.string().nullable() })
    .describe('why the results before were accepted, and those of now; null: they were not'),
  command: z.string().nullable().describe("what fired; null: the camera's description, replayed"),
  changed: z.array(z.string()).describe('what is other than it was, results apart'),
  clips: z.array(clipChecked).describe("in the suite's order, then those no longer in it"),
  before: score.nullable().describe('all clips that can be compared; null: there are none'),
  now: score.nullable(),
  limits: z.array(limitResult),
  inference: z
    .strictObject({
      level: share.describe('the chance of an answer, over all tests, where there is no difference'),
      clips: count.describe('that could be compared'),
      fewest: count.describe('changes that an answer takes'),
      tests: z.array(test),
      assumes: z.array(z.string()),
    })
    .describe('what the differences mean for footage not seen'),
});

true satisfies Agree<typeof checkSchema, ReturnType<typeof checkDocument>>;
