import { z } from 'zod';
import { kinds } from '../../store/kinds.js';
import type { KeptResult } from '../kept.js';
import type { Agree } from './agree.js';
import { count } from './pieces.js';

const bytes = z.number().min(0);

/** kept --json */
export const keptSchema = z.strictObject({
  folder: z.string().describe('where it is kept'),
  bytes: bytes.describe('of all that can be made again'),
  limit: bytes.describe('bytes that may be kept'),
  removed: bytes.describe('bytes that were removed by this command'),
  kinds: z.array(
    z.strictObject({
      kind: z.enum(kinds),
      about: z.string().describe('what it is'),
      entries: count.describe('each removed as one'),
      bytes,
      used: z.string().nullable().describe('when any of it was used last, RFC 3339; null: there is none'),
    }),
  ),
});

true satisfies Agree<typeof keptSchema, KeptResult>;
