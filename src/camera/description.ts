import { z } from 'zod';
import { dialSchema } from './dials.js';

/** Frames a second: from one in a day. */
export const SLOWEST = 0.00001;
export const FASTEST = 1000;

const whole = z.int().min(1);

const referenceSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('previous'),
    lag: whole.max(100_000).default(1),
    whileBusy: z.enum(['continues', 'frozen', 'restarts']).default('continues'),
  }),
  z.strictObject({
    kind: z.literal('average'),
    seconds: z.number().min(0.001).max(86_400),
    whileBusy: z.enum(['continues', 'frozen', 'restarts']).default('continues'),
  }),
]);

/** camera.json: what decides when the camera fires. Everything with a default may be left out of the file. */
export const cameraSchema = z.strictObject({
  version: z.literal(1),
  name: z.string().default('camera'),
  analysis: z.strictObject({
    width: whole.max(8192),
    height: whole.max(8192),
    /** Frames looked at per second. */
    rate: z.number().min(SLOWEST).max(FASTEST),
    /** Box radius in pixels, 0 for none. */
    smooth: z.int().min(0).max(64).default(0),
  }),
  reference: referenceSchema,
  area: z.enum(['region', 'changed']).default('region'),
  /** Seconds from a trigger to its first photo. */
  shutterLag: z.number().min(0).max(3600).default(0),
  burst: z
    .strictObject({ photos: whole.max(1000), interval: z.number().min(0).max(3600).default(1) })
    .default({ photos: 1, interval: 1 }),
  controls: z.record(z.string().min(1), dialSchema).default({}),
  lens: z.strictObject({ hfov: z.number().min(0.1).max(179) }).optional(),
  exposure: z
    .strictObject({ longest: z.number().min(0.00001).max(3600), mostGain: z.number().min(1).max(100_000) })
    .optional(),
  sensor: z
    .strictObject({ fullWell: z.number().min(100).max(1e9), readNoise: z.number().min(0).max(10_000) })
    .optional(),
});

export type Camera = z.output<typeof cameraSchema>;

/** Whether the reference never depends on the triggers, so that evidence kept once answers for every setting. */
export function keepsEvidence(camera: Camera): boolean {
  return camera.reference.whileBusy === 'continues';
}
