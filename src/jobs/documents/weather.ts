import { z } from 'zod';
import { manifestSchema } from '../../clip/manifest.js';
import type { weatherDocument } from '../weather.js';
import type { Agree } from './agree.js';
import { count, path, seconds } from './pieces.js';

/** weather --json */
export const weatherSchema = z.strictObject({
  dir: path.describe('the clip folder that was made'),
  frames: count,
  seconds: seconds.describe('length of the clip'),
  simulated: manifestSchema.shape.simulated.unwrap().describe('as the new clip.json has it'),
  defaults: z.array(z.string()).describe('used for what neither clip.json nor the camera says'),
});

true satisfies Agree<typeof weatherSchema, ReturnType<typeof weatherDocument>>;
