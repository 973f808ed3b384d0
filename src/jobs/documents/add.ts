import { z } from 'zod';
import { count, path, seconds } from './pieces.js';

/** add --json */
export const addDocument = z.strictObject({
  dir: path.describe('the clip folder that was made'),
  frames: count,
  seconds: seconds.describe('length of the clip'),
});
