import { z } from 'zod';
import { hint, Problem } from '../../base/problem.js';
import { quoted } from '../../base/text.js';
import { readJson } from '../../files/read-json.js';
import type { Between } from '../../outing/between.js';
import { poissonRate } from '../../score/intervals.js';

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
 * Triggers an hour that the settings recommended by a tune bring, those at visits too.
 * @param file what `tune --json` printed
 * @param name of its sites; may be left out where it has one
 * @throws Problem for a file that is none, a site that it does not have, and where nothing was watched
 */
export async function triggersFrom(
  file: string,
  name: string | undefined,
  onWarning: (line: string) => void,
): Promise<Between> {
  const { sites } = await readJson(file, tuned, 'what tune --json printed');
  const site = siteOf(sites, name, file);
  if (site.tells === 'too little') {
    onWarning(
      `${file}: too little was recorded to tell, so that the photos an hour may be quite others than these`,
    );
  }
  const triggers = triggersOf(site.recommended);
  if (!triggers) {
    throw new Problem(
      'bad-field',
      `${file}: recommended: expected a rate of false triggers, found none, for no hour was watched outside visits; give --photos-per-hour instead`,
    );
  }
  return triggers;
}

function siteOf(sites: readonly Site[], name: string | undefined, file: string): Site {
  const names = sites.map(({ site }) => site ?? '');
  const listed = names.map((one) => (one === '' ? 'one without a name' : quoted(one))).join(', ');
  if (name === undefined) {
    if (sites.length === 1) return sites[0]!;
    throw new Problem(
      'usage',
      `${file}: expected one site, found ${sites.length} (${listed}); say which with --site`,
    );
  }
  const found = sites[names.indexOf(name)];
  if (found) return found;
  throw new Problem('usage', `--site: expected one of ${listed}, found ${quoted(name)}${hint(name, names)}`);
}
