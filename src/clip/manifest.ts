import { z } from 'zod';
import { time } from '../base/time.js';
import { FASTEST, SLOWEST } from '../camera/description.js';

/** No system takes a longer one. */
const LONGEST_PATH = 4096;

const text = z.string().min(1).max(LONGEST_PATH);
const beaufort = z.number().min(0).max(12);
/** Twice what an hour has ever brought. */
const rain = z.number().min(0).max(1000);
/** Above the brightest sunlight. */
const lux = z.number().min(0).max(200_000);
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
    version: z.literal(1),
    title: z.string().optional(),
    site: z.string().optional(),
    /** Stills: a folder and a pattern with * and ? in the file name, or one still; or one video file. */
    frames: text,
    /** Frames per second. */
    rate: z.number().min(SLOWEST).max(FASTEST).optional(),
    /** Where the frames' times come from, or the times themselves in seconds. */
    times: z
      .union([z.enum(['exif', 'names', 'video']), listed], {
        error: '"exif", "names", "video" or a list of seconds',
      })
      .optional(),
    /** RFC 3339, with its zone. */
    start: z.iso
      .datetime({ offset: true, message: 'an RFC 3339 time with a zone, such as 2026-05-04T06:10:00+01:00' })
      .optional(),
    /** Degrees, north and east positive. */
    place: z
      .strictObject({
        latitude: z.number().min(-90).max(90),
        longitude: z.number().min(-180).max(180),
      })
      .optional(),
    /** Beaufort number, mm/h, lux at the scene. */
    conditions: z
      .strictObject({ wind: beaufort.optional(), rain: rain.optional(), light: lux.optional() })
      .optional(),
    /** Metres to where animals come and to the foliage, metres above ground, rain cover fitted. */
    scene: z
      .strictObject({
        subject: metres.optional(),
        foliage: metres.optional(),
        height: z.number().min(0).max(1000).optional(),
        mount: z.enum(['post', 'tree']).optional(),
        cover: z.boolean().optional(),
      })
      .optional(),
    /** Set when the frames were made from another clip. */
    simulated: z
      .strictObject({
        from: z.string(),
        seed: z.string(),
        wind: beaufort.optional(),
        rain: rain.optional(),
        light: lux.optional(),
        assumed: z.array(z.string()).optional(),
      })
      .optional(),
  })
  .refine((m) => m.rate === undefined || m.times === undefined, {
    path: ['times'],
    message: 'either rate or times, not both',
  });

export type Manifest = z.output<typeof manifestSchema>;
