import { clock } from '../../base/figures.js';
import { levelOf, TIME_TOLERANCE } from '../../engine/triggers.js';
import { holds } from '../../score/stretches.js';
import type { ReplayedClip } from '../replayed-clip.js';
import { comesBefore, type NearGrid, nearestPlace } from './nearest-grid.js';
import type { Reach } from './reach.js';
import { pixels, type Why } from './why.js';
import { idleFrom, type Window } from './window.js';

/** Levels that the camera's threshold can be set to, no higher than the present one, and that one; falling. */
export function levelsBelow({ level }: Pick<ReplayedClip, 'level'>, { grid }: NearGrid): number[] {
  const levels = thresholds(grid)
    .map(levelOf)
    .filter((l) => l < level);
  return [...new Set([level, ...levels])].sort((a, b) => b - a);
}

/**
 * Why a visit in which too little changed was missed. Too faint where a lower threshold alone would have let the camera
 * see it, too small where a smaller minimum area alone would; where either would, by the dial that needs fewer notches,
 * too small if they need as many. Where it takes both dials, by the one that needs more notches, too faint if they need
 * as many. Where neither helps: masked, if they would without the mask; absorbed, if it was in view when the reference
 * began, so that it was part of it; else too small, if a lower threshold shows hardly more of it, and too faint, if it
 * does or if nothing of it shows at all.
 *
 * @param bare what would have been reached without the mask; null where there is none
 */
export function whyTooLittle(
  replayed: ReplayedClip,
  window: Window,
  reach: Reach,
  bare: Reach | null,
  near: NearGrid,
): Why {
  const wanted = replayed.settings.minimumArea;
  const now = reach.get(replayed.level) ?? 0;
  const found = nearestSeeing(replayed, reach, near);
  if (found?.by === 'threshold') {
    const little = now === 0 ? 'Nothing' : `Only ${pixels(replayed, now)}`;
    const evidence = `${little} changed by ${replayed.level} grey levels or more, and the camera wants ${wanted} pixels; ${found.area} changed by ${found.level} or more.`;
    return { why: 'too faint', evidence };
  }
  if (found) {
    const lower =
      found.level < replayed.level
        ? `, and at ${found.level} grey levels instead of ${replayed.level} it was ${found.area}`
        : '';
    return { why: 'too small', evidence: `${most(replayed, now)}${lower}; the camera wants ${wanted}.` };
  }
  const without = bare && nearestSeeing(replayed, bare, near);
  if (without) {
    const evidence = `The mask hides it: without the mask ${pixels(replayed, without.area)} would have changed by ${without.level} grey levels, and with it no more than ${reach.get(without.level) ?? 0}; the camera wants ${wanted}.`;
    return { why: 'masked', evidence };
  }
  const lowest = Math.min(...reach.keys());
  const atLowest = reach.get(lowest) ?? 0;
  const least = dialValues(near, 'minimumArea').reduce((least, area) => Math.min(least, area), wanted);
  const figures = `no more than ${pixels(replayed, atLowest)} changed by ${lowest} grey levels, the least the camera can be set to, and it wants at least ${least}`;
  const since = takenIn(replayed, window);
  if (since) {
    const evidence = `It was in view ${since} and kept still, so the reference had taken it in: ${figures}.`;
    return { why: 'absorbed', evidence };
  }
  const small = now > 0 && 2 * now >= atLowest;
  return small
    ? {
        why: 'too small',
        evidence: `${most(replayed, now)}; the camera wants ${wanted}, and can be set to no less than ${least}.`,
      }
    : { why: 'too faint', evidence: hardly(replayed, figures) };
}

/**
 * That nothing the camera offers makes it out. What little differs from an earlier frame may have stood out well and moved
 * slowly, so that only a reference that moves more slowly still tells it from what lies behind.
 */
function hardly({ camera }: ReplayedClip, figures: string): string {
  const like = 'so it was slow or looked much like what lies behind it';
  if (camera.reference.kind === 'average') {
    return `It hardly differed from the average that the camera follows, ${like}: ${figures}.`;
  }
  return `It hardly changed from one compared frame to the next, ${like}: ${figures}. If it was slow, a camera that compares with an average may catch it.`;
}

/** In which frame that began the reference it was in view, in words; null if in none. */
function takenIn(replayed: ReplayedClip, window: Window): string | null {
  if (window.start <= (replayed.times[0] ?? 0) + TIME_TOLERANCE) return 'from the first frame on';
  if (replayed.camera.reference.whileBusy !== 'restarts') return null;
  const again = replayed.fired
    .map((_, trigger) => idleFrom(replayed, trigger))
    .find((time) => holds(window, time));
  return again === undefined ? null : `when the reference began anew at ${clock(again, 1)}`;
}

interface Seeing {
  by: 'threshold' | 'minimumArea';
  level: number;
  /** What is reached at that level. */
  area: number;
}

/** The fewest notches of threshold or minimum area at which enough would have changed; of both where neither will do. */
function nearestSeeing(replayed: ReplayedClip, reach: Reach, { grid }: NearGrid): Seeing | null {
  const levels = thresholds(grid).map(levelOf);
  const areas = dialValues({ grid }, 'minimumArea');
  const fromLevel = nearestPlace(thresholds(grid), replayed.settings.threshold);
  const fromArea = nearestPlace(areas, replayed.settings.minimumArea);
  let best: (Seeing & { rank: readonly [both: number, notches: number, byLevel: number] }) | null = null;
  for (const [p, level] of levels.entries()) {
    const area = reach.get(level) ?? 0;
    for (const [q, minimum] of areas.entries()) {
      if (area < minimum) continue;
      const [turnLevel, turnArea] = [Math.abs(p - fromLevel), Math.abs(q - fromArea)];
      const both = turnLevel > 0 && turnArea > 0 ? 1 : 0;
      const rank = [both, turnLevel + turnArea, turnLevel] as const;
      if (best && !comesBefore(rank, best.rank)) continue;
      const byLevel =
        turnLevel === turnArea ? (reach.get(replayed.level) ?? 0) < minimum : turnLevel > turnArea;
      best = { by: byLevel ? 'threshold' : 'minimumArea', level, area, rank };
    }
  }
  return best;
}

function most(replayed: ReplayedClip, area: number): string {
  const { persistence } = replayed.settings;
  const where = persistence > 1 ? ` in ${persistence} frames in a row` : '';
  return `The most that changed${where} was ${pixels(replayed, area)}`;
}

function thresholds(grid: NearGrid['grid']): number[] {
  return dialValues({ grid }, 'threshold');
}

function dialValues({ grid }: Pick<NearGrid, 'grid'>, value: 'threshold' | 'minimumArea'): number[] {
  return grid.dials[grid.dialSetting(value)]?.values ?? [];
}
