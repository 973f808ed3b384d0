import { settingChanges } from '../camera/changes.js';
import type { Camera } from '../camera/description.js';
import type { Settings } from '../camera/settings.js';
import type { Cure, Needs } from '../diagnose/diagnosis.js';
import type { Polygon } from '../engine/mask.js';
import { wilson } from '../score/intervals.js';
import { polygonText } from './diagnosis-wording.js';
import { percentBetween, plural, tidy } from './wording.js';

/** The settings that were diagnosed, with the polygons not watched under them, on the camera they are for. */
export interface Present {
  camera: Camera;
  settings: Settings;
  /** All polygons not watched in any of the clips. */
  mask: readonly Polygon[];
}

/** sensitivity 8 instead of 6, and a mask over ...: what differs between two groups of settings. */
export function changeText(to: Settings & { mask?: Polygon[] }, now: Present): string {
  const changes = settingChanges(now.settings, to, now.camera.controls).map(({ name, was, is, dial }) => {
    const off = dial ? '' : ' (which no dial of the camera sets)';
    return `${name} ${tidy(is)} instead of ${tidy(was)}${off}`;
  });
  const added = addedTo(now.mask, to.mask);
  if (added.length > 0) changes.push(`a mask over ${added.map(polygonText).join(' and ')}`);
  else if (to.mask && to.mask.length < now.mask.length) changes.push('less masked');
  return changes.join(', ') || 'nothing changed';
}

/** Polygons of a new mask that are not in the present one. */
export function addedTo(mask: readonly Polygon[], to: readonly Polygon[] | undefined): Polygon[] {
  const present = new Set(mask.map((polygon) => JSON.stringify(polygon)));
  return (to ?? []).filter((polygon) => !present.has(JSON.stringify(polygon)));
}

/** What would have caught a visit, and its price; empty where nothing would, for then the reason says so. */
export function needsText(needs: Needs | null, now: Present): string {
  if (!needs) return '';
  const { falseAdded, visitsGained, visitsLost } = needs;
  const price =
    falseAdded > 0
      ? plural(falseAdded, 'more false trigger')
      : falseAdded < 0
        ? plural(-falseAdded, 'fewer false trigger')
        : 'no more false triggers';
  const others = visitsGained - 1;
  const visits = [
    ...(others > 0 ? [`${plural(others, 'other visit')} gained`] : []),
    ...(visitsLost > 0 ? [`${plural(visitsLost, 'visit')} lost`] : []),
  ];
  const change = changeText(needs.settings, now);
  const priced = [price, ...visits].join(', ');
  return isAdvised(needs)
    ? `Caught with ${change}: ${priced}.`
    : `Nothing that was tried catches it without losing others: ${change} would catch it, with ${priced}.`;
}

/** Whether what would have caught a visit is put forward: not where other visits are lost by it. */
export function isAdvised({ visitsLost }: Needs): boolean {
  return visitsLost === 0;
}

/** Mask the corner at the lower left (...); turn sensitivity from 6 to 5. */
export function cureText(cure: Cure, now: Present): string {
  if (cure.kind === 'mask') {
    const added = addedTo(now.mask, cure.settings.mask);
    const where = cure.clips
      ? `, where ${cure.clips.join(', ')} ${cure.clips.length > 1 ? 'were' : 'was'} recorded`
      : '';
    return `Mask ${(added.length > 0 ? added : (cure.settings.mask ?? [])).map(polygonText).join(' and ')}${where}`;
  }
  if (cure.turn) return `Turn ${cure.turn.dial} from ${tidy(cure.turn.from)} to ${tidy(cure.turn.to)}`;
  return `Set ${changeText(cure.settings, now)}`;
}

/** 9 of 13 false triggers gone; 0 of 2 visits lost; 1 more caught: on all the footage. */
export function onAllText({ falseRemoved, visitsLost, visitsGained, of }: Cure): string {
  const gained = visitsGained > 0 ? `, ${visitsGained} more caught` : '';
  return `${falseRemoved} of ${plural(of.falseTriggers, 'false trigger')} gone, ${visitsLost} of ${plural(of.caught, 'visit')} lost${gained}`;
}

/** The same on the half that the cure was not worked out on, with 90 % intervals. */
export function provedText({ proof }: Cure): string {
  const { falseRemoved, falseTriggers, visitsLost, caught } = proof;
  return `${falseRemoved} of ${falseTriggers} gone${between(falseRemoved, falseTriggers)}; ${visitsLost} of ${caught} lost${between(visitsLost, caught)}`;
}

function between(part: number, whole: number): string {
  const ratio = wilson(part, whole);
  return ratio ? `, ${percentBetween(ratio)}` : '';
}
