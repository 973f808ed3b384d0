import { z } from 'zod';
import { LATEST, time } from '../base/time.js';

const seconds = time(z.number().min(0).max(LATEST));
const fraction = z.number().min(0).max(1);
const polygon = z.array(z.tuple([z.number(), z.number()])).min(3);

const stretch = { start: seconds, end: seconds };
const ordered = (s: { start: number; end: number }) => s.end >= s.start;
const endAfterStart = { path: ['end'], message: 'an end that is not before the start' };

/** observationType of Camtrap DP 1.0 (TDWG), https://camtrap-dp.tdwg.org/data/#observations.observationType */
export const visitTypes = ['animal', 'human', 'vehicle', 'blank', 'unknown', 'unclassified'] as const;
export const causeNames = ['wind', 'rain', 'light', 'noise', 'insect', 'shake', 'shadow', 'unknown'] as const;

export const labelsSchema = z.strictObject({
  version: z.literal(1),
  reviewed: z.array(z.strictObject(stretch).refine(ordered, endAfterStart)).optional(),
  visits: z.array(
    z
      .strictObject({
        ...stretch,
        type: z.enum(visitTypes).default('animal'),
        name: z.string().optional(),
        count: z.int().min(1).max(1_000_000).optional(),
        box: z.tuple([fraction, fraction, fraction, fraction]).optional(),
      })
      .refine(ordered, endAfterStart),
  ),
  ignored: z
    .array(z.strictObject({ ...stretch, why: z.string().optional() }).refine(ordered, endAfterStart))
    .optional(),
  mask: z.array(polygon).optional(),
  foliage: z.array(polygon).optional(),
  causes: z
    .array(z.strictObject({ ...stretch, cause: z.enum(causeNames) }).refine(ordered, endAfterStart))
    .optional(),
});

export type Labels = z.output<typeof labelsSchema>;
export type Visit = Labels['visits'][number];
export type Stretch = { start: number; end: number };
