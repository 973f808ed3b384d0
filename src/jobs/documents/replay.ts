import { z } from 'zod';
import type { JudgedTrigger } from '../../score/replayed.js';
import type { Score } from '../../score/score.js';
import type { Stretch } from '../../score/stretches.js';
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
export const replayDocument = z.strictObject({
  clips: z.array(
    z.strictObject({
      clip: path,
      frames: count.describe("all of the clip's, analysed or not"),
      seconds: seconds.describe('length of the clip'),
      triggers: z.array(trigger),
      visits: z
        .array(z.strictObject({ ...span, caught: z.boolean() }))
        .describe('animal visits, in order of start'),
      score,
    }),
  ),
  total: score.describe('all labelled clips together'),
});

export type ReplayDocument = z.output<typeof replayDocument>;

interface Clip {
  clip: string;
  frames: number;
  seconds: number;
  triggers: JudgedTrigger[];
  visits: (Stretch & { caught: boolean })[];
  score: Score;
}
true satisfies Agree<typeof replayDocument, { clips: Clip[]; total: Score }>;
