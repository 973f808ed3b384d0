import { ownStems, stemOf } from '../../base/stems.js';
import type { Camera } from '../../camera/description.js';
import { engineValues, positionOf } from '../../camera/dials.js';
import type { Settings, SettingsFile } from '../../camera/settings.js';
import type { Polygon } from '../../engine/mask.js';
import { type Condition, conditionNames } from '../../weather/conditions.js';
import type { SiteResult } from '../tune.js';

/** Settings for one site, for all weather or for one kind of it. */
export interface SettingsOfSite {
  /** The name that its files share, without an ending. */
  stem: string;
  /** Null: all weather. */
  condition: Condition | null;
  settings: Settings & { mask?: Polygon[] };
}

/** What is written for one site. */
export interface FilesOfSite {
  site: SiteResult;
  stem: string;
  /** First what is recommended for all weather; none where there is too little to tell. */
  groups: SettingsOfSite[];
}

/** What a site's file names end in after its stem. */
const endings = ['', '-card', ...conditionNames.map((condition) => `-${stemOf(condition)}`)];

/** Which settings to write for each site: what is recommended, and each kind of weather that has a choice of its own. */
export function filesOf(sites: readonly SiteResult[]): FilesOfSite[] {
  const stems = ownStems(
    sites.map(({ site }) => site),
    'settings',
    endings,
  );
  return sites.map((site, i) => {
    const stem = stems[i]!;
    const groups = [
      { stem, condition: null, settings: site.recommended.settings },
      ...site.byCondition.flatMap(({ condition, choice }) =>
        choice ? [{ stem: `${stem}-${stemOf(condition)}`, condition, settings: choice.settings }] : [],
      ),
    ];
    return { site, stem, groups: site.tells === 'too little' ? [] : groups };
  });
}

/** A settings file: dial positions, and engine values where no position gives them. */
export function settingsFile(settings: SettingsOfSite['settings'], camera: Camera): SettingsFile {
  const controls: Record<string, number> = {};
  const left = new Set<string>(engineValues);
  for (const [name, dial] of Object.entries(camera.controls)) {
    const position = positionOf(dial, settings[dial.sets]);
    if (position === undefined) continue;
    controls[name] = position;
    left.delete(dial.sets);
  }
  const values = engineValues.filter((value) => left.has(value)).map((value) => [value, settings[value]]);
  return {
    version: 1,
    ...Object.fromEntries(values),
    controls,
    ...(settings.mask && { mask: settings.mask }),
  };
}
