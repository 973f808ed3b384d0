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

/** A day at five a second and as much again: what moves is laid out for every frame before the first is drawn. */
const MOST_FRAMES = 864_000;
/** Each animal is looked at in every frame of its visit before the first is drawn. */
const MOST_VISITS = 5000;

function visitsPlanned(s: {
  seconds: number;
  visits?: { perHour?: number | undefined; species: Partial<Record<string, number>> } | undefined;
}): number {
  if (!s.visits) return 0;
  const { perHour, species } = s.visits;
  if (perHour !== undefined) return (perHour * s.seconds) / 3600;
  return Object.values(species).reduce<number>((sum, n) => sum + (n ?? 0), 0);
}

/** A garden scene to be drawn, as kept in clips/*.json. */
export const sceneSpec = z
  .strictObject({
    version: z.literal(1).describe('of this format'),
    title: z.string().min(1).describe('what the clip shows'),
    site: z.enum(siteNames).describe('the garden that is drawn'),
    seed: z
      .string()
      .min(1)
      .describe('everything random follows from it, unless a part has a seed of its own'),
    seeds: z
      .strictObject({
        place: z.string().min(1).optional().describe('what the garden looks like'),
        visits: z.string().min(1).optional().describe('who comes, when, by which way'),
        weather: z.string().min(1).optional().describe('gusts, rain, clouds, insects, noise'),
      })
      .optional()
      .describe('seeds of parts'),
    seconds: z.number().min(1).max(86_400).describe('length of the clip'),
    rate: z.number().min(0.5).max(60).default(5).describe('frames per second'),
    width: z.int().min(64).max(1280).default(320).describe('pixels'),
    height: z.int().min(48).max(960).default(240).describe('pixels'),
    start: z.iso
      .datetime({
        offset: true,
        message: 'an RFC 3339 time with a zone, such as 2026-05-04T06:10:00+01:00',
      })
      .describe('RFC 3339, with its zone'),
    place: z
      .strictObject({
        latitude: z.number().min(-90).max(90).describe('degrees, north positive'),
        longitude: z.number().min(-180).max(180).describe('degrees, east positive'),
      })
      .describe('where on earth, for the light of the day'),
    conditions: z
      .strictObject({
        wind: z.number().min(0).max(12).describe('Beaufort number'),
        rain: z.number().min(0).max(100).describe('mm/h'),
        light: z.number().min(0.1).max(130_000).describe('lux at the scene when the clip starts'),
      })
      .describe('the weather'),
    lightAtEnd: z
      .number()
      .min(0.1)
      .max(130_000)
      .optional()
      .describe('lux at the end, which the light falls or rises to evenly in stops; left out: it stays'),
    scene: z
      .strictObject({
        subject: metres.min(0.8).max(6).describe('metres to where animals come'),
        foliage: metres.min(0.8).max(10).describe('metres to the foliage'),
        height: metres.min(0.2).max(3).describe('metres above ground'),
        mount: z.enum(['post', 'tree']).describe('what the camera hangs on'),
        cover: z.boolean().describe('whether a rain cover is fitted'),
      })
      .describe('how the camera stands'),
    visits: z
      .strictObject({
        perHour: perHour.optional().describe('visits an hour'),
        species: counts.describe('by its name'),
      })
      .optional()
      .describe('visits of each species; or, with perHour, its share of that many visits an hour'),
    insects: perHour.optional().describe('close to the lens, an hour'),
    shadows: perHour.optional().describe('of somebody or something out of view, an hour'),
    shakes: perHour.optional().describe('knocks of the camera or its mount, an hour'),
    clouds: perHour
      .optional()
      .describe("that pass before the sun, an hour; the camera's exposure follows in steps"),
    person: z
      .strictObject({
        start: z.number().min(0).default(0).describe('seconds'),
        end: z.number().min(0).default(0).describe('seconds'),
      })
      .optional()
      .describe('for how long somebody is setting up at the start and taking down at the end'),
  })
  .refine((s) => (s.person?.start ?? 0) + (s.person?.end ?? 0) < s.seconds, {
    path: ['person'],
    message: 'setting up and taking down to be shorter than the clip',
  })
  .refine((s) => s.seconds * s.rate <= MOST_FRAMES, {
    path: ['seconds'],
    message: `at most ${MOST_FRAMES} frames (seconds times rate)`,
  })
  .refine((s) => visitsPlanned(s) <= MOST_VISITS, {
    path: ['visits'],
    message: `at most ${MOST_VISITS} visits in all`,
  });

export type SceneSpec = z.output<typeof sceneSpec>;
export type SpeciesName = (typeof speciesNames)[number];
