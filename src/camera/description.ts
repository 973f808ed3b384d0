import { z } from 'zod';
import { dialSchema } from './dials.js';

/** Frames a second: from one in a day. */
export const SLOWEST = 0.00001;
export const FASTEST = 1000;

const whole = z.int().min(1);

const whileBusy = z
  .enum(['continues', 'frozen', 'restarts'])
  .default('continues')
  .describe('what it does from a trigger until the camera is idle again');

const referenceSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('previous').describe('an earlier frame'),
    lag: whole
      .max(100_000)
      .default(1)
      .describe('how many analysed frames back lies the one that it compares with; 1: the one before'),
    whileBusy,
  }),
  z.strictObject({
    kind: z.literal('average').describe('a running average'),
    seconds: z.number().min(0.001).max(86_400).describe('in which it takes over 63 % of a change'),
    whileBusy,
  }),
]);

/** camera.json: what decides when the camera fires. Everything with a default may be left out of the file. */
export const cameraSchema = z.strictObject({
  version: z.literal(1).describe('of this format'),
  name: z.string().regex(/\S/, 'a name').default('camera').describe('what output calls it'),
  analysis: z
    .strictObject({
      width: whole.max(8192).describe('pixels'),
      height: whole.max(8192).describe('pixels'),
      rate: z.number().min(SLOWEST).max(FASTEST).describe('frames looked at per second'),
      smooth: z
        .int()
        .min(0)
        .max(64)
        .default(0)
        .describe(
          'by how many pixels each way a frame is blurred before it is compared, against noise; 0: not at all',
        ),
    })
    .describe('the frames that it compares'),
  reference: referenceSchema.describe('what it compares a frame with'),
  area: z
    .enum(['region', 'changed'])
    .default('region')
    .describe('what must reach minimumArea: the largest connected region, or all changed pixels'),
  shutterLag: z.number().min(0).max(3600).default(0).describe('seconds from a trigger to its first photo'),
  burst: z
    .strictObject({
      photos: whole.max(1000).describe('how many'),
      interval: z.number().min(0).max(3600).default(1).describe('seconds between them'),
    })
    .default({ photos: 1, interval: 1 })
    .describe('photos at each trigger'),
  controls: z
    .record(z.string().min(1), dialSchema)
    .default({})
    .describe("the camera's own dials by name, in its own units"),
  lens: z
    .strictObject({ hfov: z.number().min(0.1).max(179).describe('horizontal field of view, degrees') })
    .optional()
    .describe('for simulated weather, and for how large animals look'),
  exposure: z
    .strictObject({
      longest: z.number().min(0.00001).max(3600).describe('seconds'),
      mostGain: z.number().min(1).max(100_000).describe('times'),
    })
    .optional()
    .describe('for simulated low light'),
  sensor: z
    .strictObject({
      fullWell: z.number().min(100).max(1e9).describe('electrons'),
      readNoise: z.number().min(0).max(10_000).describe('electrons'),
    })
    .optional()
    .describe('for simulated low light'),
  power: z
    .strictObject({
      mAh: z.number().min(1).max(1e7).optional().describe('that the battery, or power bank, is said to hold'),
      cellVolts: z
        .number()
        .min(0.5)
        .max(100)
        .optional()
        .describe('at which those mAh are meant: 3.7 for the cells of a power bank'),
      efficiency: z
        .number()
        .min(0.05)
        .max(1)
        .optional()
        .describe('share of what the cells hold that comes out at `volts`'),
      volts: z.number().min(0.5).max(100).optional().describe('at which the camera is fed'),
      idle: z
        .number()
        .min(0.0001)
        .max(100)
        .optional()
        .describe('amperes at `volts` while it watches and takes no photo'),
      photoJoules: z.number().min(0).max(100_000).optional().describe('that one photo takes on top of that'),
    })
    .optional()
    .describe('for how long a battery lasts'),
  storage: z
    .strictObject({
      cardGB: z
        .number()
        .min(0.001)
        .max(100_000)
        .optional()
        .describe('that are free for photos, in powers of ten'),
      photoMB: z.number().min(0.0001).max(10_000).optional().describe('of one photo, in powers of ten'),
    })
    .optional()
    .describe('for how long a card lasts'),
});

export type Camera = z.output<typeof cameraSchema>;
