import { z } from 'zod';
import { type AgainstResult, silences } from '../../diagnose/against/against.js';
import { missNotes, missReasons } from '../../diagnose/diagnosis.js';
import { causeNames } from '../../score/labels.js';
import type { diagnosisDocument } from '../diagnose/document.js';
import type { Agree } from './agree.js';
import { box, controls, count, maskedSettings, path, ratio, seconds, share, span, visit } from './pieces.js';

const cause = z.enum(causeNames);
const evidence = z.string().describe('one plain sentence');
const verdict = z.enum(['true', 'false', 'ignored']).nullable();
const name = z.string().nullable();
const side = z.enum(['these', 'other']);
const why = z.enum(missReasons).describe('why it was missed');
const note = z.exactOptional(
  z
    .enum(missNotes)
    .describe('too brief by that: frames in which more changes than mostChanged allows do not count'),
);

const trigger = z.strictObject({
  clip: path,
  time: seconds,
  cause: z
    .enum([...causeNames, 'visit'])
    .describe('visit: by the labels, an animal that had only just left, or left before the photo'),
  probability: share.nullable().describe('null: told by the labels and not by the model'),
  evidence,
  box,
});

const needs = z.strictObject({
  settings: maskedSettings,
  controls: controls.nullable().describe('null where a value stands at no position of its dial'),
  falseAdded: z.int().describe('more false triggers than now'),
  visitsLost: count,
  visitsGained: count.describe('this one among them'),
});

const missed = z.strictObject({
  clip: path,
  visit,
  ...span,
  name,
  why,
  note,
  evidence,
  needs: needs
    .nullable()
    .describe(
      'the nearest settings that would have caught it, and their price; of those that lose no other visit where there are any',
    ),
});

const cure = z.strictObject({
  kind: z.enum(['mask', 'dial', 'persistence', 'mostChanged']),
  settings: maskedSettings,
  falseRemoved: z.int().describe('on all the footage'),
  visitsLost: count,
  provedOn: z.literal('other half'),
  turn: z.strictObject({ dial: z.string(), from: z.number(), to: z.number() }).nullable(),
  clips: z.exactOptional(z.array(path).describe('the only ones that a mask of one place is for')),
  visitsGained: count,
  of: z.strictObject({ falseTriggers: count, caught: count }).describe('what there is now'),
  proof: z
    .strictObject({ falseRemoved: z.int(), falseTriggers: count, visitsLost: count, caught: count })
    .describe('on the half of the footage that it was not worked out on'),
});

const places = z.strictObject({
  clip: path,
  simulated: z.exactOptional(z.literal(true).describe('weather was put onto it: clip.json says so')),
  columns: count,
  rows: count,
  explained: z.array(count).describe('explained triggers in each cell, rows from the top'),
  animals: z.array(count).describe('animal visits in each cell'),
});

const advice = z.strictObject({
  cause,
  practice: z.array(z.string()),
  care: z.array(z.string()).describe('what to mind while doing so'),
  restsOn: z.literal('common practice'),
});

const against = z.strictObject({
  clip: path,
  both: z.strictObject({ triggers: count, visits: count }),
  triggers: z.array(
    z.strictObject({ time: seconds, verdict, firedBy: side, why: z.enum(silences), evidence }),
  ),
  visits: z.array(z.strictObject({ visit, ...span, name, caughtBy: side, why, note, evidence })),
});

const taught = z.strictObject({
  site: z.string().nullable(),
  clips: z.array(path),
  triggers: count.describe('false triggers'),
  told: count.describe('of them, those of which the labels tell the cause'),
  bouts: count.describe('bunches that these come in'),
  needed: z.strictObject({ told: count, bouts: count }).describe('the least that anything is learnt from'),
  verdict: z
    .enum(['better', 'no better', 'too little to tell'])
    .describe('only what is better on triggers left out is used'),
  judged: z
    .strictObject({
      how: z.enum(['leave one clip out', 'blocks of time']),
      right: z.strictObject({ shipped: ratio, taught: ratio }),
      logLoss: z.strictObject({
        shipped: z.number().min(0),
        taught: z.number().min(0),
        gained: z
          .strictObject({ value: z.number(), low: z.number(), high: z.number() })
          .describe('the first less the second, with its 90 % interval'),
      }),
    })
    .nullable()
    .describe('on triggers left out; null: too little to tell'),
  changed: count.describe('triggers of which another cause is said now'),
});

/** diagnose --json */
export const diagnoseSchema = z.strictObject({
  falseTriggers: z.array(trigger),
  unjudged: z.array(trigger).describe('triggers of clips without labels'),
  byLuck: z
    .array(z.strictObject({ clip: path, visit }))
    .describe('visits that were caught while something else fired'),
  missed: z.array(missed),
  cures: z.array(cure).describe('best first'),
  notes: z.array(z.string()).describe('what was not tried as a cure, or did not hold'),
  places: z.array(places).describe('the counts behind the map'),
  advice: z.array(advice).describe('for the causes, at the camera itself'),
  taught: z.exactOptional(z.array(taught).describe('only with --teach: site by site')),
  against: z.exactOptional(z.array(against).describe('only with --against')),
  maskWritten: z.exactOptional(
    z
      .string()
      .nullable()
      .describe('only with --write-mask: the file; null: no mask held, nothing was written'),
  ),
});

type Printed = ReturnType<typeof diagnosisDocument> & {
  against?: AgainstResult[];
  maskWritten?: string | null;
};
true satisfies Agree<typeof diagnoseSchema, Printed>;
