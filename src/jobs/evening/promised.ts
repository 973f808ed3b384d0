import { z } from 'zod';
import { type Between, times } from '../../outing/between.js';
import type { PromisedStretch } from '../../outing/evening/promise.js';
import { parseInstant } from '../../plan/instant.js';
import { readTold } from '../read-told.js';
import { siteOf } from '../site-of.js';

/** What was promised, in false triggers an hour. */
export interface PromisedFile {
  kind: 'tune' | 'plan';
  site: string | null;
  /** That the camera of the promise takes; null: the file does not say. */
  photosPerTrigger: number | null;
  /** One without ends of tune, or those of a plan. */
  stretches: TriggersPromised[];
  /** Why nothing is promised although there is a file; null: something is. */
  nothing: string | null;
}

/** A stretch of time, in seconds since 1970 in UTC; without ends where all time is meant. */
export interface TriggersPromised {
  from: number;
  until: number;
  /** Minutes that the clock it was written by is ahead of UTC. */
  offset: number;
  conditions: readonly string[] | null;
  falsePerHour: Between | null;
}

/** More than any camera takes an hour. */
const MOST_PER_HOUR = 1e6;
const perHour = z.number().min(0).max(MOST_PER_HOUR);
const between = z
  .object({ value: perHour, low: perHour, high: perHour })
  .refine(({ value, low, high }) => low <= value && value <= high, 'a value from low to high');

const photosPerTrigger = z.int().min(1).nullable().default(null);

const tunedSite = z.object({
  site: z.string().nullable(),
  tells: z.enum(['enough', 'hint', 'too little']),
  photosPerTrigger,
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
const plannedSite = z.object({
  site: z.string().nullable(),
  tells: z.enum(['enough', 'hint', 'too little']).optional(),
  photosPerTrigger,
  stretches: z.array(
    z.object({
      from: z.string(),
      to: z.string(),
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
 * @throws Problem for a file that is neither, and for a site that it does not have
 */
export async function readPromised(file: string, name: string | undefined): Promise<PromisedFile> {
  const { sites } = await readTold(file, promisedSchema);
  const site = siteOf(sites, name, file);
  return 'stretches' in site ? ofPlan(site, file) : ofTune(site);
}

/** What a file promises something for. */
export interface PromisedSite {
  kind: PromisedFile['kind'];
  site: string | null;
  /** Of a plan, which promises nothing for other times: seconds since 1970 in UTC; null: all time is meant. */
  hours: { from: number; until: number } | null;
}

/** Of which sites a file promises something. @throws Problem for one that is neither of tune nor of plan */
export async function promisedSites(file: string): Promise<PromisedSite[]> {
  const { sites } = await readTold(file, promisedSchema);
  return sites.map((one) => {
    if (!('stretches' in one)) return { kind: 'tune', site: one.site, hours: null };
    const { stretches } = ofPlan(one, file);
    if (stretches.length === 0) return { kind: 'plan', site: one.site, hours: null };
    const from = Math.min(...stretches.map((stretch) => stretch.from));
    const until = Math.max(...stretches.map((stretch) => stretch.until));
    return { kind: 'plan', site: one.site, hours: { from, until } };
  });
}

function ofPlan(
  { site, tells, stretches, photosPerTrigger }: Extract<Site, { stretches: unknown }>,
  file: string,
): PromisedFile {
  const told = tells !== 'too little';
  const promised = stretches.map(({ from, to, conditions, falsePerHour }, i) => ({
    from: parseInstant(from, `${file}: stretches[${i}].from`).ms / 1000,
    until: parseInstant(to, `${file}: stretches[${i}].to`).ms / 1000,
    offset: parseInstant(from, file).offset,
    conditions: conditions ?? null,
    falsePerHour: told ? falsePerHour : null,
  }));
  const any = promised.some((stretch) => stretch.falsePerHour !== null);
  const nothing = told ? 'the plan foretells no rate for any hour' : tooLittle('the plan');
  return { kind: 'plan', site, photosPerTrigger, stretches: promised, nothing: any ? null : nothing };
}

function tooLittle(who: string): string {
  return `${who} itself said that too little was recorded to tell`;
}

function ofTune({
  site,
  tells,
  recommended,
  photosPerTrigger,
}: Extract<Site, { recommended: unknown }>): PromisedFile {
  const { score, unseen } = recommended;
  const foretold: Between | null =
    unseen.falsePerHour ?? (score.falsePerHour && { ...score.falsePerHour, ...score.falsePerHour.bouts });
  const rate = tells === 'too little' ? null : foretold;
  const stretch = {
    from: Number.NEGATIVE_INFINITY,
    until: Number.POSITIVE_INFINITY,
    offset: 0,
    conditions: null,
    falsePerHour: rate && { value: rate.value, low: rate.low, high: rate.high },
  };
  const nothing =
    tells === 'too little' ? tooLittle('tuning') : rate ? null : 'tuning foretold no rate of false triggers';
  return { kind: 'tune', site, photosPerTrigger, stretches: [stretch], nothing };
}

/**
 * The promise by the camera's clock and in photos, as what came is.
 * @param photos a trigger; null: not known, so that no rate of photos is promised
 * @param clock minutes that the camera's clock is ahead of UTC; null: it shows what that of the plan shows
 */
export function inPhotos(
  { stretches }: PromisedFile,
  photos: number | null,
  clock: number | null,
): PromisedStretch[] {
  return stretches.map(({ from, until, offset, conditions, falsePerHour }) => ({
    from: from + (clock ?? offset) * 60,
    until: until + (clock ?? offset) * 60,
    conditions,
    nothingPerHour: falsePerHour && photos !== null ? times(falsePerHour, photos) : null,
  }));
}
