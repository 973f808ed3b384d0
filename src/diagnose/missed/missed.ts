import { Turns } from '../../base/turns.js';
import { floorFor } from '../../camera/floor.js';
import { evidenceOf, type ReadingOptions } from '../../measure/evidence.js';
import type { ColumnSource } from '../../sweep/columns.js';
import type { Case } from '../case.js';
import type { MissedVisit, Needs } from '../diagnosis.js';
import { seeDirectly, tryTurns } from './direct.js';
import { nearestCatching, tryAll } from './nearest.js';
import { gridNear, type NearGrid } from './nearest-grid.js';
import { reachOf } from './reach.js';
import { levelsBelow, whyTooLittle } from './size.js';
import { type Why, whyAtThreshold, whyInTime } from './why.js';
import { type Seen, seenIn, type Window, windowOf } from './window.js';

/** Why each animal visit without a photo was missed, and the nearest settings that would have caught it; case by case. */
export async function explainMissed(
  cases: readonly Case[],
  options: ReadingOptions,
): Promise<MissedVisit[][]> {
  const missed = cases.map(({ judged }) => judged.visits.flatMap(({ caught }, v) => (caught ? [] : [v])));
  const first = cases[0];
  if (!first || missed.every((visits) => visits.length === 0)) return missed.map(() => []);
  const near = gridNear(first.camera, first.settings);
  const tried = first.evidence ? await tryAll(cases, near) : await tryTurns(cases, options);
  const all: MissedVisit[][] = [];
  const turns = new Turns();
  for (const [clip, a] of cases.entries()) {
    const visits = missed[clip] as number[];
    const whys = await whyMissed(a, visits, near, options);
    const told: MissedVisit[] = [];
    for (const [i, visit] of visits.entries()) {
      if (turns.due) await turns.take();
      const needs = nearestCatching(cases, tried, { clip, visit });
      told.push(missedVisit(a, visit, whys[i] as Why, needs, near));
    }
    all.push(told);
  }
  return all;
}

function missedVisit(a: Case, visit: number, why: Why, needs: Needs | null, near: NearGrid): MissedVisit {
  const { start, end, name } = a.judged.visits[visit] as { start: number; end: number; name?: string };
  const tried = !a.evidence
    ? 'No dial turned by one notch catches it.'
    : near.whole
      ? 'No setting of the camera catches it.'
      : 'None of the settings nearest to these catches it.';
  return {
    visit,
    start,
    end,
    name: name ?? null,
    why: why.why,
    evidence: needs ? why.evidence : `${why.evidence} ${tried}`,
    needs,
  };
}

/** Why some visits of one clip, that were not caught, were missed, in their order. */
export async function whyMissed(
  a: Case,
  visits: readonly number[],
  near: NearGrid,
  options: ReadingOptions,
): Promise<Why[]> {
  if (visits.length === 0) return [];
  const windows = visits.map((v) => windowOf(a, a.judged.visits[v] as { start: number; end: number }));
  const levels = levelsBelow(a, near);
  const columns = await columnsOf(a, a.mask, windows, levels, options);
  const seen = await seenBy(a, columns);
  const grounds = windows.map((window) => ({ a, window, seen, sawBusy: a.evidence !== null }));
  const inTime = grounds.map(whyInTime);
  // Without the mask the clip may have to be read once more, so that is done only where it can decide.
  const bareColumns =
    a.mask && inTime.includes(null) ? await columnsOf(a, null, windows, levels, options) : null;
  const bare = bareColumns && (await seenBy(a, bareColumns));
  const whys = grounds.map((ground, i) => inTime[i] ?? whyAtThreshold(ground, bare));
  const open = windows.filter((_, i) => !whys[i]);
  const reach = await reachOf(a, columns, open, levels);
  const bareReach = bareColumns && (await reachOf(a, bareColumns, open, levels));
  let o = -1;
  return windows.map((window, i) => {
    const why = whys[i];
    if (why) return why;
    o++;
    return whyTooLittle(a, window, reach[o] ?? new Map(), bareReach?.[o] ?? null, near);
  });
}

async function columnsOf(
  a: Case,
  mask: Uint8Array | null,
  windows: readonly Window[],
  levels: readonly number[],
  options: ReadingOptions,
): Promise<ColumnSource> {
  if (a.evidence && mask === a.mask) return a.evidence;
  if (a.evidence) return evidenceOf(a.clip, a.camera, mask, floorFor(a.camera, a.level), options);
  const wanted = new Set<number>();
  for (const { catching, inView } of windows) {
    for (const k of [...catching, ...inView]) {
      for (let back = 0; back < a.settings.persistence; back++) wanted.add(k - back);
    }
  }
  return seeDirectly(a, mask, wanted, levels, options);
}

async function seenBy(a: Case, columns: ColumnSource): Promise<Seen> {
  const both = await columns.bothColumns([a.level]);
  return seenIn(both[a.camera.area].get(a.level)!, both.changed.get(a.level)!, a);
}
