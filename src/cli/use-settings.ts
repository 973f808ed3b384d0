import type { Camera } from '../camera/description.js';
import type { SettingsFile } from '../camera/settings.js';
import { changeProject } from '../files/join-project.js';
import { settingsFile } from '../jobs/tune/files-of.js';
import type { SiteResult } from '../jobs/tune.js';
import { adviceOn, siteName } from '../words/answer.js';

/**
 * Writes what is recommended into a project as the settings in use: at each spot where it is not worse than what is used there
 * now, and where there is enough to tell. A settings file that was named there until now stays as it is.
 * @param file the project's
 * @param spots the names of those that were tuned
 * @returns the names of those whose settings were set
 */
export async function useSettings(
  file: string,
  spots: readonly string[],
  sites: readonly SiteResult[],
  cameraOf: (site: SiteResult) => Camera,
  note: (line: string) => void,
): Promise<string[]> {
  const wanted = new Map<string, SettingsFile>();
  for (const site of sites) {
    const camera = cameraOf(site);
    const advice = adviceOn(site, camera);
    if (advice === 'too little' || advice === 'keep') {
      const why = advice === 'keep' ? 'what is used there is better' : 'there is too little to tell';
      note(`${siteName(site)}: its settings in use stay as they are in ${file}, for ${why}`);
      continue;
    }
    // All spots together have one answer.
    const names = site.site === null || !spots.includes(site.site) ? spots : [site.site];
    for (const spot of names) wanted.set(spot, settingsFile(site.recommended.settings, camera));
  }
  if (wanted.size === 0) return [];
  await changeProject(file, (project) => ({
    ...project,
    sites: project.sites.map((one) => {
      const settings = wanted.get(one.site);
      return settings ? { ...one, settings } : one;
    }),
  }));
  return [...wanted.keys()];
}
