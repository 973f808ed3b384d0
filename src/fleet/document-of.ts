import { printedJson } from '../base/text.js';
import type { Camera } from '../camera/description.js';
import { type Suite, suiteOfProject } from '../check/suite.js';
import type { Clip } from '../clip/open.js';
import { readProject } from '../files/project.js';
import { cameraFile } from '../files/shipped-cameras.js';
import { type CheckResult, check, checkDocument } from '../jobs/check.js';
import { diagnose, diagnosisDocument } from '../jobs/diagnose.js';
import type { OpenPorts } from '../jobs/ports.js';
import { type SiteResult, tune, tuneDocument } from '../jobs/tune.js';
import { worstOf } from '../tune/tells.js';
import { readAnswer } from './answers.js';
import { openAs } from './open-as.js';
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
  switch (run.verb) {
    case 'check': {
      const result: CheckResult = await check({ suite: await suiteIn(run) }, ports);
      return {
        document: printedJson(checkDocument(result)),
        code: result.checked.verdict === 'fails' ? 1 : 0,
      };
    }
    case 'tune': {
      const sites = (await sitesKept(run, ports)) ?? (await sitesAnew(run, ports));
      const tells = worstOf(sites.map((site) => site.tells));
      return { document: printedJson(tuneDocument({ sites, tells })), code: 0 };
    }
    case 'diagnose': {
      const { clips, camera, settings } = await givenTo(run, ports);
      const result = await diagnose({ clips, camera, settings: settings! }, ports);
      return { document: printedJson(diagnosisDocument(result)), code: 0 };
    }
  }
}

async function suiteIn({ source, site, spots }: Run): Promise<Suite | string> {
  return spots.length > 0 ? suiteOfProject(await readProject(source), site ?? undefined) : source;
}

/** What a run is over, where all of it has one camera. */
async function givenTo(run: Run, ports: OpenPorts) {
  if (run.spots.length === 0) {
    const camera = run.camera === null ? undefined : await cameraFile(run.camera);
    return { clips: run.clips.map(({ path }) => path), camera, settings: run.settings };
  }
  const [{ camera, settings }] = run.spots as [Run['spots'][number]];
  const clips: Clip[] = [];
  for (const spot of run.spots) clips.push(...(await openAs(spot.clips, spot.site, ports)));
  return { clips, camera: camera as Camera, settings };
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

async function sitesAnew(run: Run, ports: OpenPorts): Promise<SiteResult[]> {
  if (run.spots.length === 0) {
    const { clips, camera } = await givenTo(run, ports);
    return (await tune({ clips, camera }, ports)).sites;
  }
  const sites: SiteResult[] = [];
  for (const { site, clips, camera, settings } of run.spots) {
    const opened = await openAs(clips, site, ports);
    const input = { clips: opened, camera: camera as Camera, now: settings ?? undefined };
    sites.push(...(await tune(input, ports)).sites);
  }
  return sites;
}
