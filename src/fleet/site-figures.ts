import { dirname, join, posix } from 'node:path';
import type { z } from 'zod';
import { checkSchema } from '../jobs/documents/check.js';
import { diagnoseSchema } from '../jobs/documents/diagnose.js';
import { tuneSchema } from '../jobs/documents/tune.js';
import type { Run } from './run.js';
import { documentOfRun } from './shared-folder.js';

/** What a document says of a site, as counts. */
export interface SiteFigures {
  /** Null: a diagnosis, which tells of the missed ones alone. */
  visits: number | null;
  missed: number;
  falseTriggers: number;
  /** Null: a diagnosis. */
  watchedHours: number | null;
}

/** Against the time before: fewer missed and then fewer false triggers are better; one up and one down is changed. */
export type Change = 'worse' | 'changed' | 'new' | 'better' | 'same';

/** What a run found, site by site; null where it has no document. Of tuning: what is recommended, on these clips. */
export async function figuresOf(name: string, run: Run): Promise<Map<string | null, SiteFigures> | null> {
  switch (run.verb) {
    case 'check': {
      const document = await documentOfRun(name, checkSchema);
      return document && ofCheck(document, run);
    }
    case 'tune': {
      const document = await documentOfRun(name, tuneSchema);
      return document && ofTune(document);
    }
    case 'diagnose': {
      const document = await documentOfRun(name, diagnoseSchema);
      return document && ofDiagnosis(document, run);
    }
  }
}

function ofCheck({ clips }: z.output<typeof checkSchema>, run: Run): Map<string | null, SiteFigures> {
  const sites = siteOfClips(run);
  const figures = new Map<string | null, SiteFigures>();
  for (const { clip, now } of clips) {
    const path = posix.normalize(join(dirname(run.source), clip));
    if (!now || !sites.has(path)) continue;
    const { visits, caught, falseTriggers, watchedHours } = now;
    addTo(figures, sites.get(path)!, { visits, missed: visits - caught, falseTriggers, watchedHours });
  }
  return figures;
}

function ofTune({ sites }: z.output<typeof tuneSchema>): Map<string | null, SiteFigures> {
  return new Map(
    sites.map(({ site, recommended }) => {
      const { visits, caught, falseTriggers, watchedHours } = recommended.score;
      return [site, { visits, missed: visits - caught, falseTriggers, watchedHours }];
    }),
  );
}

function ofDiagnosis(
  { falseTriggers, missed }: z.output<typeof diagnoseSchema>,
  run: Run,
): Map<string | null, SiteFigures> {
  const figures = new Map<string | null, SiteFigures>();
  for (const { path, site } of run.clips) {
    addTo(figures, site, {
      visits: null,
      missed: missed.filter(({ clip }) => clip === path).length,
      falseTriggers: falseTriggers.filter(({ clip }) => clip === path).length,
      watchedHours: null,
    });
  }
  return figures;
}

function siteOfClips({ clips }: Run): Map<string, string | null> {
  return new Map(clips.map(({ path, site }) => [posix.normalize(path), site]));
}

function addTo(figures: Map<string | null, SiteFigures>, site: string | null, more: SiteFigures): void {
  const so = figures.get(site);
  figures.set(
    site,
    so
      ? {
          visits: sum(so.visits, more.visits),
          missed: so.missed + more.missed,
          falseTriggers: so.falseTriggers + more.falseTriggers,
          watchedHours: sum(so.watchedHours, more.watchedHours),
        }
      : more,
  );
}

function sum(a: number | null, b: number | null): number | null {
  return a === null || b === null ? null : a + b;
}

/** Shares below this differ by rounding alone. */
const ALIKE = 1e-9;

/**
 * What changed at a site since the time before, by the share of visits missed and by false triggers an hour, so that more
 * footage alone is no change. It counts what is there: whether it is more than chance, the check's own document says.
 */
export function changeOf(now: SiteFigures, before: SiteFigures | null): Change {
  if (!before) return 'new';
  const missed = direction(now.missed, now.visits, before.missed, before.visits);
  const fired = direction(now.falseTriggers, now.watchedHours, before.falseTriggers, before.watchedHours);
  if (missed === 0 && fired === 0) return 'same';
  if (missed * fired < 0) return 'changed';
  return missed + fired > 0 ? 'worse' : 'better';
}

/** 1 where there is more of it than before, -1 where less; of as many where both are known, else by count. */
function direction(now: number, of: number | null, before: number, ofBefore: number | null): number {
  const share = of !== null && ofBefore !== null && of > 0 && ofBefore > 0;
  const difference = share ? now / of - before / ofBefore : now - before;
  return Math.abs(difference) < ALIKE ? 0 : Math.sign(difference);
}
