import { z } from 'zod';

export const siteNames = ['log pile', 'water bowl', 'compost heap'] as const;
export const speciesNames = [
  'wren',
  'house sparrow',
  'blackbird',
  'starling',
  'moorhen',
  'wood mouse',
  'hedgehog',
] as const;

const metres = z.number().gt(0);
const perHour = z.number().min(0).max(3600);
const counts = z
  .partialRecord(z.enum(speciesNames), z.number().min(0).max(10_000))
  .refine((species) => Object.values(species).some((n) => (n ?? 0) > 0), 'at least one species above 0');

/** A garden scene to be drawn, as kept in clips/*.json. Times in seconds, rates of events per hour. */
export const sceneSpec = z
  .strictObject({
    version: z.literal(1),
    title: z.string().min(1),
    site: z.enum(siteNames),
    /** Everything random in the scene follows from this, unless a part has a seed of its own. */
    seed: z.string().min(1),
    /** place: what the garden looks like. visits: who comes, when, by which way. weather: gusts, rain, clouds, insects, noise. */
    seeds: z
      .strictObject({
        place: z.string().min(1).optional(),
        visits: z.string().min(1).optional(),
        weather: z.string().min(1).optional(),
      })
      .optional(),
    seconds: z.number().min(1).max(86_400),
    /** Frames per second. */
    rate: z.number().min(0.5).max(60).default(5),
    /** Pixels. */
    width: z.int().min(64).max(1280).default(320),
    height: z.int().min(48).max(960).default(240),
    /** RFC 3339, with its zone. */
    start: z.iso.datetime({
      offset: true,
      message: 'an RFC 3339 time with a zone, such as 2026-05-04T06:10:00+01:00',
    }),
    place: z.strictObject({
      latitude: z.number().min(-90).max(90),
      longitude: z.number().min(-180).max(180),
    }),
    /** Beaufort number, mm/h, lux at the scene when the clip starts. */
    conditions: z.strictObject({
      wind: z.number().min(0).max(12),
      rain: z.number().min(0).max(100),
      light: z.number().min(0.1).max(130_000),
    }),
    /** Lux at the end, which the light falls or rises to evenly in stops; absent: it stays. */
    lightAtEnd: z.number().min(0.1).max(130_000).optional(),
    /** Metres to where animals come and to the foliage, metres above ground. */
    scene: z.strictObject({
      subject: metres.min(0.8).max(6),
      foliage: metres.min(0.8).max(10),
      height: metres.min(0.2).max(3),
      mount: z.enum(['post', 'tree']),
      cover: z.boolean(),
    }),
    /** Visits of each species; or, with perHour, its share of that many visits an hour. */
    visits: z.strictObject({ perHour: perHour.optional(), species: counts }).optional(),
    /** Insects close to the lens, an hour. */
    insects: perHour.optional(),
    /** Shadows of somebody or something out of view, an hour. */
    shadows: perHour.optional(),
    /** Knocks of the camera or its mount, an hour. */
    shakes: perHour.optional(),
    /** Clouds that pass before the sun, an hour; the camera's exposure follows in steps. */
    clouds: perHour.optional(),
    /** Seconds for which a person is setting up at the start and taking down at the end. */
    person: z
      .strictObject({ start: z.number().min(0).default(0), end: z.number().min(0).default(0) })
      .optional(),
  })
  .refine((s) => (s.person?.start ?? 0) + (s.person?.end ?? 0) < s.seconds, {
    path: ['person'],
    message: 'setting up and taking down to be shorter than the clip',
  });

export type SceneSpec = z.output<typeof sceneSpec>;
export type SpeciesName = (typeof speciesNames)[number];
