import { z } from 'zod';
import type { replayDocument } from '../replay.js';
import type { Agree } from './agree.js';
import { count, path, score, seconds, span, visit } from './pieces.js';

const trigger = z.strictObject({
  time: seconds,
  photos: z.array(seconds).describe('times of its photos'),
  verdict: z.enum(['true', 'false', 'ignored']).nullable().describe('null: the clip has no labels'),
  visit: visit
    .nullable()
    .describe('the visit it belongs to, by its place in the list below; null unless true'),
});

/** replay --json */
export const replaySchema = z.strictObject({
  clips: z.array(
    z.strictObject({
      clip: path,
      frames: count.describe("all of the clip's, analysed or not"),
      seconds: seconds.describe('length of the clip'),
      simulated: z.exactOptional(z.literal(true).describe('weather was put onto it: clip.json says so')),
      triggers: z.array(trigger),
      visits: z
        .array(z.strictObject({ ...span, caught: z.boolean() }))
        .describe('animal visits, in order of start'),
      score,
    }),
  ),
  total: score.describe('all labelled clips together'),
});

true satisfies Agree<typeof replaySchema, ReturnType<typeof replayDocument>>;
