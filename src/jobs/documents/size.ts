import { z } from 'zod';
import type { sizeDocument } from '../size.js';
import type { Agree } from './agree.js';
import { controls } from './pieces.js';

const above = z.number().gt(0);
const ends = z.strictObject({ low: above, high: above });
const metres = above.describe('metres');

/** size --json */
export const sizeSchema = z.strictObject({
  camera: z.string().describe('its name'),
  animal: z.string().nullable().describe('null: a length was given'),
  lengthCm: z
    .strictObject({ value: above, low: above, high: above })
    .describe('value: what was reckoned with; low and high: what is common'),
  distance: metres,
  pixels: above.describe('long at the analysis size, seen from the side'),
  area: above.describe('pixels to be expected, seen from the side'),
  range: z
    .strictObject({ pixels: ends, area: ends, farthest: ends, farthestEndOn: ends, nearest: ends })
    .describe('the same for an animal as short and as long as is common; of a length that was given, that'),
  minimumArea: above.describe('pixels, to start from'),
  controls: controls.describe('the position of the dial that gives it; empty: there is none'),
  fires: z.boolean().describe('whether the area reaches it at this distance'),
  farthest: metres.describe('metres up to which it fires, seen from the side'),
  farthestEndOn: metres.describe('the same, seen from the end'),
  nearest: metres.describe(
    'metres nearer than which it fills the frame, or may change more than mostChanged allows at its highest',
  ),
  nearestBy: z.enum(['frame', 'mostChanged']).describe('which of the two'),
  mostChanged: z
    .array(z.strictObject({ value: above.describe('pixels'), nearest: metres }))
    .describe('the same at the lowest and at the highest that the dial gives'),
  assumed: z.array(z.string()).describe('what was taken to be so'),
  notes: z.array(z.string()).describe('what should be known of it'),
});

true satisfies Agree<typeof sizeSchema, ReturnType<typeof sizeDocument>>;
