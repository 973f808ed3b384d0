import { printedJson } from '../base/text.js';
import { cameraFile } from '../files/shipped-cameras.js';
import { type CheckResult, check, checkDocument } from '../jobs/check.js';
import { diagnose, diagnosisDocument } from '../jobs/diagnose.js';
import type { OpenPorts } from '../jobs/ports.js';
import { type SiteResult, tune, tuneDocument } from '../jobs/tune.js';
import { worstOf } from '../tune/tells.js';
import { readAnswer } from './answers.js';
import type { Run } from './run.js';

/** A document as its verb prints it on one machine, and the exit code of that. */
export interface Worked {
  document: string;
  code: 0 | 1;
}

/**
 * The ordinary verb over all clips of a run. What other jobs made is found in what is kept, so that it takes little; what is
 * not there is made now.
 * @throws whatever the verb throws
 */
export async function documentOf(run: Run, ports: OpenPorts): Promise<Worked> {
  const clips = run.clips.map(({ path }) => path);
  const camera = run.camera === null ? undefined : await cameraFile(run.camera);
  switch (run.verb) {
    case 'check': {
      const result: CheckResult = await check({ suite: run.source }, ports);
      return {
        document: printedJson(checkDocument(result)),
        code: result.checked.verdict === 'fails' ? 1 : 0,
      };
    }
    case 'tune': {
      const sites = await sitesKept(run, ports);
      const result = sites ? togetherOf(sites) : await tune({ clips, camera }, ports);
      return { document: printedJson(tuneDocument(result)), code: 0 };
    }
    case 'diagnose': {
      const result = await diagnose({ clips, camera, settings: run.settings! }, ports);
      return { document: printedJson(diagnosisDocument(result)), code: 0 };
    }
  }
}

/** What was found of each site, in order; null where something of it is missing. */
async function sitesKept({ jobs }: Run, { cache }: OpenPorts): Promise<SiteResult[] | null> {
  const sites: SiteResult[] = [];
  for (const { key, kind } of jobs) {
    if (kind !== 'tune') continue;
    const site = await readAnswer(cache, key);
    if (!site) return null;
    sites.push(site);
  }
  return sites;
}

function togetherOf(sites: SiteResult[]) {
  return { sites, tells: worstOf(sites.map(({ tells }) => tells)) };
}
