import { z } from 'zod';
import { LATEST, time } from '../base/time.js';

const seconds = time(z.number().min(0).max(LATEST));
const start = seconds.describe("seconds from the clip's start, or m:ss");
const end = seconds.describe("seconds from the clip's start, or m:ss; the end belongs to it");
const fraction = z.number().min(0).max(1);
const polygon = z
  .array(z.tuple([z.number(), z.number()]))
  .min(3)
  .describe('corners x, y from the upper left, fractions of the frame');

const stretch = { start, end };
const ordered = (s: { start: number; end: number }) => s.end >= s.start;
const endAfterStart = (one: string) => ({
  path: ['end'],
  message: 'an end that is not before the start',
  params: { beside: 'start', one },
});

/** observationType of Camtrap DP 1.0 (TDWG), https://camtrap-dp.tdwg.org/data/#observations.observationType */
export const visitTypes = ['animal', 'human', 'vehicle', 'blank', 'unknown', 'unclassified'] as const;
export const causeNames = ['wind', 'rain', 'light', 'noise', 'insect', 'shake', 'shadow', 'unknown'] as const;

/** labels.json: when animals were in view. */
export const labelsSchema = z.strictObject({
  version: z.literal(1).describe('of this format'),
  reviewed: z
    .array(z.strictObject(stretch).refine(ordered, endAfterStart('stretch')))
    .optional()
    .describe('what a person looked through; left out: all of the clip'),
  visits: z
    .array(
      z
        .strictObject({
          ...stretch,
          type: z
            .enum(visitTypes)
            .default('animal')
            .describe('who came, in the words of Camtrap DP; only animals count as visits'),
          name: z.string().optional().describe('such as the species'),
          count: z.int().min(1).max(1_000_000).optional().describe('how many came'),
          box: z
            .tuple([fraction, fraction, fraction, fraction])
            .optional()
            .describe('where: x, y of the upper left corner, width, height, as fractions of the frame'),
        })
        .refine(ordered, endAfterStart('visit')),
    )
    .describe('when somebody was in view; they may overlap'),
  ignored: z
    .array(
      z
        .strictObject({ ...stretch, why: z.string().optional().describe('such as setting up') })
        .refine(ordered, endAfterStart('stretch')),
    )
    .optional()
    .describe('time that counts neither for nor against'),
  mask: z.array(polygon).optional().describe('what is not watched at this site'),
  foliage: z.array(polygon).optional().describe('what can sway, for simulated wind'),
  causes: z
    .array(
      z
        .strictObject({ ...stretch, cause: z.enum(causeNames).describe('what it was') })
        .refine(ordered, endAfterStart('cause')),
    )
    .optional()
    .describe('what moved outside visits'),
});

export type Labels = z.output<typeof labelsSchema>;
export type Visit = Labels['visits'][number];
export type Stretch = { start: number; end: number };
