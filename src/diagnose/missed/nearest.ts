import type { Settings } from '../../camera/settings.js';
import { photosFor } from '../../camera/timing.js';
import type { SweepCounts } from '../../sweep/counts.js';
import { sweepCamera } from '../../sweep/for-camera.js';
import { outcomesAt } from '../../sweep/outcomes.js';
import { sweepClip } from '../../sweep/sweep.js';
import type { Needs } from '../diagnosis.js';
import type { ReplayedClip } from '../replayed-clip.js';
import { comesBefore, dialsGiving, fileOf, type NearGrid, notchesApart } from './nearest-grid.js';

/** A visit, by its clip's place among the cases and its own among the clip's animal visits. */
export interface VisitAt {
  clip: number;
  visit: number;
}

/** Groups of settings, numbered, and what each would catch on some clips. */
export interface Tried {
  size: number;
  settingsAt(setting: number): Settings;
  /** How far from the present settings: notches over all dials, and dials turned. */
  apartAt(setting: number): { notches: number; dials: number };
  /** For each case; null where the clip has no labels. */
  counts: readonly (Pick<SweepCounts, 'falseTriggers' | 'caughtVisit'> | null)[];
}

/** What pricing settings needs of a case. */
type Priced = Pick<ReplayedClip, 'camera' | 'settings' | 'judged'>;

/** Replays all labelled clips under every setting of the grid, from their evidence. */
export async function tryAll(cases: readonly ReplayedClip[], near: NearGrid): Promise<Tried> {
  const counts: Tried['counts'][number][] = [];
  for (const { camera, truth, times, evidence } of cases) {
    if (!truth || !evidence) {
      counts.push(null);
      continue;
    }
    const outcomes = outcomesAt(times, (time) => photosFor(camera, time), truth);
    // What would catch a visit is priced by visits caught, by luck or not.
    const swept = { ...evidence, within: null, truth, outcomes };
    const [whole] = await sweepClip(swept, near.grid, sweepCamera(camera));
    counts.push(whole);
  }
  return {
    size: near.grid.size,
    settingsAt: (setting) => near.grid.settingsAt(setting),
    apartAt: (setting) => notchesApart(near, setting),
    counts,
  };
}

/**
 * The nearest group of settings that catches a visit: what loses no visit that is caught now before what does, then the fewest
 * notches over all dials, then the fewest false triggers on all labelled clips, then the fewest dials turned, then the most
 * visits caught. Null where none catches it.
 */
export function nearestCatching(cases: readonly Priced[], tried: Tried, at: VisitAt): Needs | null {
  let best: { setting: number; rank: number[] } | null = null;
  for (let setting = 0; setting < tried.size; setting++) {
    if (!tried.counts[at.clip]?.caughtVisit(setting, at.visit)) continue;
    const { notches, dials } = tried.apartAt(setting);
    if (best?.rank[0] === 0 && notches > best.rank[1]!) continue;
    const losing = losesAny(cases, tried, setting) ? 1 : 0;
    if (best && losing === best.rank[0] && notches > best.rank[1]!) continue;
    const rank: number[] = [
      losing,
      notches,
      falseOf(tried, setting),
      dials,
      -caughtBy(cases, tried, setting),
    ];
    if (!best || comesBefore(rank, best.rank)) best = { setting, rank };
  }
  return best && needsOf(cases, tried, best.setting);
}

/** Counted over all visits, so once for each setting, however many visits it is the nearest of. */
const counted = new WeakMap<
  Tried,
  { needs: Map<number, Needs>; caught: Map<number, number>; losing: Map<number, boolean> }
>();

function countedFor(tried: Tried) {
  let counts = counted.get(tried);
  if (!counts) {
    counts = { needs: new Map(), caught: new Map(), losing: new Map() };
    counted.set(tried, counts);
  }
  return counts;
}

function needsOf(cases: readonly Priced[], tried: Tried, setting: number): Needs {
  const { needs } = countedFor(tried);
  const known = needs.get(setting) ?? countNeeds(cases, tried, setting);
  needs.set(setting, known);
  return known;
}

function countNeeds(cases: readonly Priced[], tried: Tried, setting: number): Needs {
  const { camera, settings: now } = cases[0]!;
  const settings = tried.settingsAt(setting);
  let visitsLost = 0;
  let visitsGained = 0;
  let falseNow = 0;
  cases.forEach(({ judged }, c) => {
    falseNow += judged.counts?.falseTriggers ?? 0;
    judged.visits.forEach(({ caught }, v) => {
      const then = tried.counts[c]?.caughtVisit(setting, v) ?? caught;
      if (caught && !then) visitsLost++;
      if (!caught && then) visitsGained++;
    });
  });
  return {
    settings: fileOf(settings, now.mask),
    controls: dialsGiving(camera, settings),
    falseAdded: falseOf(tried, setting) - falseNow,
    visitsLost,
    visitsGained,
  };
}

/** Whether a visit that is caught now would be lost. */
function losesAny(cases: readonly Priced[], tried: Tried, setting: number): boolean {
  const { losing } = countedFor(tried);
  const known = losing.get(setting);
  if (known !== undefined) return known;
  const loses = cases.some(({ judged }, c) =>
    judged.visits.some(({ caught }, v) => caught && tried.counts[c]?.caughtVisit(setting, v) === false),
  );
  losing.set(setting, loses);
  return loses;
}

function falseOf(tried: Tried, setting: number): number {
  return tried.counts.reduce((sum, counts) => sum + (counts?.falseTriggers[setting] ?? 0), 0);
}

function caughtBy(cases: readonly Priced[], tried: Tried, setting: number): number {
  const { caught } = countedFor(tried);
  const known = caught.get(setting);
  if (known !== undefined) return known;
  const of = ({ judged }: Priced, c: number) =>
    judged.visits.filter((_, v) => tried.counts[c]?.caughtVisit(setting, v)).length;
  const sum = cases.reduce((n, replayed, c) => n + of(replayed, c), 0);
  caught.set(setting, sum);
  return sum;
}
