import { type Controls, dialFor, engineValues, positionOf } from './dials.js';
import type { Settings } from './settings.js';

/** One value that differs between two groups of settings, as the owner of the camera sets it. */
export interface SettingChange {
  /** The dial, where both values stand at positions of it, and these positions; else the engine value by itself. */
  name: string;
  was: number;
  is: number;
  /** Whether the camera has a dial for it at all. */
  dial: boolean;
}

/** What differs between two groups of settings, in the order of the engine's values. */
export function settingChanges(was: Settings, is: Settings, controls: Controls): SettingChange[] {
  return engineValues.flatMap((name): SettingChange[] => {
    const [before, now] = [was[name], is[name]];
    if (before === now) return [];
    const [dialName, dial] = dialFor(controls, name) ?? [];
    const [from, to] = [dial && positionOf(dial, before), dial && positionOf(dial, now)];
    return dialName === undefined || from === undefined || to === undefined
      ? [{ name, was: before, is: now, dial: dial !== undefined }]
      : [{ name: dialName, was: from, is: to, dial: true }];
  });
}
