import { z } from 'zod';
import { time } from '../base/time.js';
import { FASTEST, SLOWEST } from '../camera/description.js';

/** No system takes a longer one. */
const LONGEST_PATH = 4096;

const text = z.string().min(1).max(LONGEST_PATH);
const beaufort = z.number().min(0).max(12).describe('Beaufort number');
/** Twice what an hour has ever brought. */
const rain = z.number().min(0).max(1000).describe('mm/h');
/** Above the brightest sunlight. */
const lux = z.number().min(0).max(200_000).describe('lux at the scene');
const metres = z.number().min(0.01).max(10_000);

const listed = z
  .array(time(z.number()))
  .min(1)
  .superRefine((times, context) => {
    const i = times.findIndex((t, k) => k > 0 && !(t > times[k - 1]!));
    if (i > 0) {
      context.addIssue({
        code: 'custom',
        path: [i],
        message: `a time above that of the frame before it (${times[i - 1]})`,
      });
    }
  });

/** clip.json: what a recording is. Everything but version and frames may be left out. */
export const manifestSchema = z
  .strictObject({
    version: z.literal(1).describe('of this format'),
    title: z.string().optional().describe('what the clip shows'),
    site: z.string().optional().describe('where the camera hung; clips of one site are tuned together'),
    frames: text.describe(
      'stills: a folder and a pattern with * and ? in the file name, or one still; or one video file',
    ),
    rate: z.number().min(SLOWEST).max(FASTEST).optional().describe('frames per second; instead of times'),
    times: z
      .union([z.enum(['exif', 'names', 'video']), listed], {
        error: '"exif", "names", "video" or a list of seconds',
      })
      .optional()
      .describe(
        "where the frames' times come from, or the times themselves, in seconds or as m:ss; instead of rate",
      ),
    start: z.iso
      .datetime({ offset: true, message: 'an RFC 3339 time with a zone, such as 2026-05-04T06:10:00+01:00' })
      .optional()
      .describe('when the recording began, RFC 3339 with its zone'),
    place: z
      .strictObject({
        latitude: z.number().min(-90).max(90).describe('degrees, north positive'),
        longitude: z.number().min(-180).max(180).describe('degrees, east positive'),
      })
      .optional()
      .describe('where on earth, for the light of the day'),
    conditions: z
      .strictObject({ wind: beaufort.optional(), rain: rain.optional(), light: lux.optional() })
      .optional()
      .describe('the weather while it was recorded'),
    scene: z
      .strictObject({
        subject: metres.optional().describe('metres to where animals come'),
        foliage: metres.optional().describe('metres to the foliage'),
        height: z.number().min(0).max(1000).optional().describe('metres above ground'),
        mount: z.enum(['post', 'tree']).optional().describe('what the camera hung on'),
        cover: z.boolean().optional().describe('whether a rain cover was fitted'),
      })
      .optional()
      .describe('how the camera stood'),
    simulated: z
      .strictObject({
        from: z.string().describe('the clip it was made from, relative to this folder'),
        seed: z.string().describe('what everything random follows from'),
        wind: beaufort.optional(),
        rain: rain.optional(),
        light: lux.optional(),
        assumed: z.array(z.string()).optional().describe('what was assumed'),
      })
      .optional()
      .describe('set where the frames were made from another clip'),
  })
  .refine((m) => m.rate === undefined || m.times === undefined, {
    path: ['times'],
    message: 'either rate or times, not both',
  });

export type Manifest = z.output<typeof manifestSchema>;
