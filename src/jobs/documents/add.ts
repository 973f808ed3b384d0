import { z } from 'zod';
import type { AddResult } from '../add.js';
import type { Agree } from './agree.js';
import { count, path, seconds } from './pieces.js';

/** add --json */
export const addSchema = z.strictObject({
  dir: path.describe('the clip folder that was made'),
  frames: count,
  seconds: seconds.describe('length of the clip'),
  project: z.exactOptional(path.describe('the file of the project that it was put into')),
});

true satisfies Agree<typeof addSchema, AddResult>;
