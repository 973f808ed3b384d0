import { z } from 'zod';
import { Problem } from '../../base/problem.js';
import { type Between, times } from '../../outing/between.js';
import { poissonRate } from '../../score/intervals.js';
import { readTold } from '../read-told.js';
import { siteOf } from '../site-of.js';

/** More than any camera takes an hour, and longer than anything is recorded. */
const [MOST_PER_HOUR, MOST_HOURS] = [1e6, 1e6];
/** A second: where anything was watched, no less was. */
const LEAST_HOURS = 1 / 3600;

const perHour = z.number().min(0).max(MOST_PER_HOUR);
const ends = z
  .object({ low: perHour, high: perHour })
  .refine(({ low, high }) => low <= high, 'expected low not above high');
const interval = z
  .object({ value: perHour, low: perHour, high: perHour })
  .refine(({ value, low, high }) => low <= value && value <= high, 'expected value from low to high');
const count = z.int().min(0);

/** As much of what `tune --json` prints as is needed here. */
const tuned = z.object({
  sites: z
    .array(
      z.object({
        site: z.string().nullable(),
        tells: z.enum(['enough', 'hint', 'too little']),
        recommended: z.object({
          score: z.object({
            caught: count,
            trueTriggers: count,
            watchedHours: z.union([z.literal(0), z.number().min(LEAST_HOURS).max(MOST_HOURS)]),
            falsePerHour: z.intersection(interval, z.object({ bouts: ends.optional() })).nullable(),
          }),
          unseen: z.object({ falsePerHour: interval.nullable() }),
        }),
      }),
    )
    .min(1),
});

type Site = z.output<typeof tuned>['sites'][number];

/** As much of what `plan --json` prints as is needed here. */
const planned = z.object({
  sites: z
    .array(
      z.object({
        site: z.string().nullable(),
        tells: z.enum(['enough', 'hint', 'too little']),
        stretches: z.array(
          z.object({ hours: z.number().gt(0).max(MOST_HOURS), photosPerHour: interval.nullable() }),
        ),
      }),
    )
    .min(1),
});

type PlannedSite = z.output<typeof planned>['sites'][number];

/** Whether a document is a plan: it alone has stretches. */
const anything = z.looseObject({ sites: z.array(z.looseObject({ stretches: z.unknown().optional() })) });

/**
 * Triggers an hour that settings bring: the false ones as foretold for footage not seen, else as on the clips with the
 * interval by bouts; and those at visits, as often as visits were caught, with so many triggers a visit as there were.
 * Visits take turns with watched hours, so that the sum is a little too high rather than too low; so are its ends, for both
 * are added as if they came together.
 * @returns null where nothing was watched
 */
export function triggersOf({ score, unseen }: Site['recommended']): Between | null {
  const nothing =
    unseen.falsePerHour ?? (score.falsePerHour && { ...score.falsePerHour, ...score.falsePerHour.bouts });
  const visits = poissonRate(score.caught, score.watchedHours);
  if (!nothing || !visits) return null;
  const each = score.caught === 0 ? 0 : score.trueTriggers / score.caught;
  return {
    value: nothing.value + each * visits.value,
    low: nothing.low + each * visits.low,
    high: nothing.high + each * visits.high,
  };
}

/**
 * Photos an hour that the settings recommended by a tune bring, those at visits too; or those of a plan, on average over its
 * hours of which something is known.
 * @param file what `tune --json` or `plan --json` printed
 * @param name of its sites; may be left out where it has one
 * @param burst photos that the camera takes at each trigger
 * @throws Problem for a file that is neither, a site that it does not have, and where nothing was watched
 */
export async function photosFrom(
  file: string,
  name: string | undefined,
  burst: number,
  onWarning: (line: string) => void,
): Promise<Between> {
  const told = await readTold(file, anything);
  const isPlan = told.sites.some(({ stretches }) => stretches !== undefined);
  const { sites } = isPlan ? await readTold(file, planned) : await readTold(file, tuned);
  const site = siteOf<Site | PlannedSite>(sites, name, file);
  if (site.tells === 'too little') {
    onWarning(
      `${file}: too little was recorded to tell, so that the photos an hour may be quite others than these`,
    );
  }
  if ('stretches' in site) {
    const photosPerHour = meanOf(site.stretches);
    if (photosPerHour) return photosPerHour;
    throw new Problem(
      'bad-field',
      `${file}: stretches: expected photos an hour in one of them at least, found none; give --photos-per-hour instead`,
    );
  }
  const triggers = triggersOf(site.recommended);
  if (triggers) return times(triggers, burst);
  throw new Problem(
    'bad-field',
    `${file}: recommended: expected a rate of false triggers, found none, because no time was watched outside visits; give --photos-per-hour instead`,
  );
}

/** By hours; the ends are averaged as if they came together. Null where nothing is known of any. */
function meanOf(stretches: PlannedSite['stretches']): Between | null {
  const told = stretches.flatMap(({ hours, photosPerHour }) =>
    photosPerHour ? [{ hours, photosPerHour }] : [],
  );
  const all = told.reduce((sum, { hours }) => sum + hours, 0);
  if (all === 0) return null;
  const mean = (end: keyof Between) =>
    told.reduce((sum, { hours, photosPerHour }) => sum + hours * photosPerHour[end], 0) / all;
  return { value: mean('value'), low: mean('low'), high: mean('high') };
}
