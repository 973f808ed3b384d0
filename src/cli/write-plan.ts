import { join } from 'node:path';
import { ownStems } from '../base/stems.js';
import type { Camera } from '../camera/description.js';
import { type Output, type OutputRules, openOutput } from '../files/output.js';
import type { PlanResult, SitePlan } from '../jobs/plan.js';
import { settingsFile } from '../jobs/tune/files-of.js';
import { planAdvice, plannedName } from '../words/plan-wording.js';

/** The most walks that a site's files are numbered for. */
const MOST = 999;

/**
 * Writes for each site a settings file for what to begin with and for every walk, and its card of these days: all places are
 * looked at, and all is made, before the first is written.
 * @returns the files, as they were named
 */
export async function writePlan(
  { sites }: PlanResult,
  dir: string,
  cameraOf: (site: SitePlan) => Camera,
  rules: OutputRules,
  cardOf: (site: SitePlan) => Promise<string>,
  note: (line: string) => void,
): Promise<string[]> {
  const { settingsInTurn } = await import('../report/plan-card.js');
  const stems = ownStems(
    sites.map(({ site }) => site),
    'plan',
    ['', '-card', ...Array.from({ length: MOST }, (_, i) => `-${i + 2}`)],
  );
  const wanted: [Output, () => string | Promise<string>][] = [];
  const add = async (name: string, content: () => string | Promise<string>) => {
    wanted.push([await openOutput('--write', join(dir, name), rules), content]);
  };
  for (const [s, site] of sites.entries()) {
    if (planAdvice(site) === 'too little') {
      note(`${plannedName(site)}: too little to tell, so nothing is written for it`);
      continue;
    }
    const stem = stems[s]!;
    for (const [turn, { dials }] of settingsInTurn(site).entries()) {
      const name = turn === 0 ? `${stem}.json` : `${stem}-${turn + 1}.json`;
      await add(name, () => `${JSON.stringify(settingsFile(dials.settings, cameraOf(site)), null, 2)}\n`);
    }
    await add(`${stem}-card.html`, () => cardOf(site));
  }
  const made: [Output, string][] = [];
  for (const [output, content] of wanted) made.push([output, await content()]);
  for (const [output, content] of made) await output.write(content);
  return wanted.map(([{ path }]) => path);
}
