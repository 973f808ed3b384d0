import { z } from 'zod';
import { hint, Problem } from '../../base/problem.js';
import { quoted } from '../../base/text.js';
import { readJson } from '../../files/read-json.js';
import { type Between, times } from '../../outing/between.js';
import type { PromisedStretch } from '../../outing/evening/promise.js';

/** What was promised, in photos of nothing an hour. */
export interface PromisedFile {
  kind: 'tune' | 'plan';
  site: string | null;
  /** One without ends of tune, or those of a plan. */
  stretches: PromisedStretch[];
  /** Why nothing is promised although there is a file; null: something is. */
  nothing: string | null;
}

/** More than any camera takes an hour. */
const MOST_PER_HOUR = 1e6;
const perHour = z.number().min(0).max(MOST_PER_HOUR);
const between = z
  .object({ value: perHour, low: perHour, high: perHour })
  .refine(({ value, low, high }) => low <= value && value <= high, 'expected value from low to high');

const tunedSite = z.object({
  site: z.string().nullable(),
  tells: z.enum(['enough', 'hint', 'too little']),
  recommended: z.object({
    score: z.object({
      falsePerHour: z
        .intersection(between, z.object({ bouts: z.object({ low: perHour, high: perHour }).optional() }))
        .nullable(),
    }),
    unseen: z.object({ falsePerHour: between.nullable() }),
  }),
});

const conditions = z.union([z.array(z.string()), z.string().transform((one) => [one])]);
/** RFC 3339. */
const moment = z.iso.datetime({ offset: true, local: false });
const plannedSite = z.object({
  site: z.string().nullable(),
  stretches: z.array(
    z.object({
      from: moment,
      to: moment,
      conditions: conditions.nullable().optional(),
      falsePerHour: between.nullable(),
    }),
  ),
});

const promisedSchema = z.object({ sites: z.array(z.union([tunedSite, plannedSite])).min(1) });
type Site = z.output<typeof promisedSchema>['sites'][number];

/**
 * What `tune --json` or `plan --json` promised for one site.
 * @param name of the site; may be left out where there is one
 * @param photos that the camera takes a trigger
 * @throws Problem for a file that is neither, and for a site that it does not have
 */
export async function readPromised(
  file: string,
  name: string | undefined,
  photos: number,
): Promise<PromisedFile> {
  const { sites } = await readJson(file, promisedSchema, 'what tune --json or plan --json printed');
  const site = siteOf(sites, name, file);
  return 'stretches' in site ? ofPlan(site, photos) : ofTune(site, photos);
}

function ofPlan({ site, stretches }: Extract<Site, { stretches: unknown }>, photos: number): PromisedFile {
  const promised = stretches.map(({ from, to, conditions, falsePerHour }) => ({
    from: wallClock(from),
    until: wallClock(to),
    conditions: conditions ?? null,
    nothingPerHour: falsePerHour && times(falsePerHour, photos),
  }));
  const any = promised.some(({ nothingPerHour }) => nothingPerHour !== null);
  return {
    kind: 'plan',
    site,
    stretches: promised,
    nothing: any ? null : 'the plan foretells no rate for any hour',
  };
}

function ofTune(
  { site, tells, recommended }: Extract<Site, { recommended: unknown }>,
  photos: number,
): PromisedFile {
  const { score, unseen } = recommended;
  const foretold: Between | null =
    unseen.falsePerHour ?? (score.falsePerHour && { ...score.falsePerHour, ...score.falsePerHour.bouts });
  const rate = tells === 'too little' ? null : foretold;
  const stretch = {
    from: Number.NEGATIVE_INFINITY,
    until: Number.POSITIVE_INFINITY,
    conditions: null,
    nothingPerHour: rate && times({ value: rate.value, low: rate.low, high: rate.high }, photos),
  };
  const nothing =
    tells === 'too little'
      ? 'tuning itself said that too little was recorded to tell'
      : rate
        ? null
        : 'tuning foretold no rate of false triggers';
  return { kind: 'tune', site, stretches: [stretch], nothing };
}

/** What clocks at the place show at that moment, in seconds as if it were UTC: photos know no zone. */
function wallClock(rfc3339: string): number {
  return Date.parse(`${rfc3339.replace(/(Z|[+-]\d\d:\d\d)$/i, '')}Z`) / 1000;
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
