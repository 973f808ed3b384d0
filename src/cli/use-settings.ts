import { isDeepStrictEqual } from 'node:util';
import type { Camera } from '../camera/description.js';
import type { SettingsFile } from '../camera/settings.js';
import { changeProject } from '../files/join-project.js';
import { type Project, type ProjectSite, sitesOf } from '../files/project.js';
import { settingsFile } from '../jobs/tune/files-of.js';
import type { SiteResult } from '../jobs/tune.js';
import { type Advice, adviceOn, siteName, untoldText } from '../words/answer.js';

const WHY_KEPT: Partial<Record<Advice, string>> = {
  'too little': 'there is too little to tell',
  'none caught': 'what was asked for leaves nothing that catches a visit',
  keep: 'what is used there is better',
};

/**
 * Writes what is recommended into a project as the settings in use: at each spot where it is not worse than what is used there
 * now, and where there is enough to tell, also whether the allowance is kept. A settings file that was named there until now stays as it is, and so do settings
 * and cameras that the owner changed while the spot was being tuned: the advice was not held against those.
 * @param project as it was read before
 * @param spots the names of those that were tuned
 * @returns the names of those whose settings were set
 */
export async function useSettings(
  { file, sites: before }: Project,
  spots: readonly string[],
  sites: readonly SiteResult[],
  cameraOf: (site: SiteResult) => Camera,
  note: (line: string) => void,
): Promise<string[]> {
  const wanted = new Map<string, SettingsFile>();
  const stays = (name: string, why: string) =>
    note(`${name}: its settings in use stay as they are in ${file}, because ${why}`);
  for (const site of sites) {
    const camera = cameraOf(site);
    const advice = adviceOn(site, camera);
    const why = WHY_KEPT[advice];
    if (why !== undefined) {
      stays(siteName(site), why);
      continue;
    }
    // Few false triggers in a few minutes may be chance, and settings that hardly fire at all would be set for it.
    const untold = untoldText(site);
    if (untold) {
      stays(siteName(site), `telling ${untold}`);
      continue;
    }
    // All spots together have one answer.
    const names = site.site === null || !spots.includes(site.site) ? spots : [site.site];
    for (const spot of names) wanted.set(spot, settingsFile(site.recommended.settings, camera));
  }
  if (wanted.size === 0) return [];
  let changed: string[] = [];
  let there: string[] = [];
  await changeProject(file, async (project) => {
    const now = await sitesOf(project, file);
    there = now.map(({ site }) => site);
    changed = now.filter((one) => isChanged(one, before)).map(({ site }) => site);
    if (!there.some((site) => wanted.has(site) && !changed.includes(site))) return null;
    return {
      ...project,
      sites: project.sites.map((one) => {
        const settings = wanted.get(one.site);
        return settings && !changed.includes(one.site) ? { ...one, settings } : one;
      }),
    };
  });
  const set: string[] = [];
  for (const name of wanted.keys()) {
    if (!there.includes(name)) note(`${name}: it is no longer in ${file}, so nothing was set there`);
    else if (changed.includes(name))
      stays(
        name,
        'they or its camera were changed there meanwhile; tune again to hold the advice against them',
      );
    else set.push(name);
  }
  return set;
}

/** Whether what the advice was held against is no longer what stands there. */
function isChanged({ site, camera, settings }: ProjectSite, before: readonly ProjectSite[]): boolean {
  const was = before.find((one) => one.site === site);
  return !was || !isDeepStrictEqual([was.camera, was.settings], [camera, settings]);
}
