import { Turns } from '../../base/turns.js';
import { floorFor } from '../../camera/floor.js';
import { evidenceOf, type ReadingOptions } from '../../measure/evidence.js';
import type { ColumnSource } from '../../sweep/columns.js';
import type { MissedVisit, Needs } from '../diagnosis.js';
import type { ReplayedClip } from '../replayed-clip.js';
import { seeDirectly, tryTurns } from './direct.js';
import { nearestCatching, tryAll } from './nearest.js';
import { gridNear, type NearGrid } from './nearest-grid.js';
import { reachOf } from './reach.js';
import { levelsBelow, whyTooLittle } from './size.js';
import { type Why, whyAtThreshold, whyInTime } from './why.js';
import { type Seen, seenIn, type Window, windowOf } from './window.js';

/** Why each animal visit without a photo was missed, and the nearest settings that would have caught it; case by case. */
export async function explainMissed(
  cases: readonly ReplayedClip[],
  options: ReadingOptions,
): Promise<MissedVisit[][]> {
  const missed = cases.map(({ judged }) => judged.visits.flatMap(({ caught }, v) => (caught ? [] : [v])));
  const first = cases[0];
  if (!first || missed.every((visits) => visits.length === 0)) return missed.map(() => []);
  const near = gridNear(first.camera, first.settings);
  const tried = first.evidence ? await tryAll(cases, near) : await tryTurns(cases, options);
  const all: MissedVisit[][] = [];
  const turns = new Turns();
  for (const [clip, replayed] of cases.entries()) {
    const visits = missed[clip] as number[];
    const whys = await whyMissed(replayed, visits, near, options);
    const told: MissedVisit[] = [];
    for (const [i, visit] of visits.entries()) {
      if (turns.due) await turns.take();
      const needs = nearestCatching(cases, tried, { clip, visit });
      told.push(missedVisit(replayed, visit, whys[i] as Why, needs, near));
    }
    all.push(told);
  }
  return all;
}

function missedVisit(
  replayed: ReplayedClip,
  visit: number,
  why: Why,
  needs: Needs | null,
  near: NearGrid,
): MissedVisit {
  const { start, end, name } = replayed.judged.visits[visit] as { start: number; end: number; name?: string };
  const tried = !replayed.evidence
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
    ...(why.note && { note: why.note }),
    evidence: needs ? why.evidence : `${why.evidence} ${tried}`,
    needs,
  };
}

/** Why the given visits of one clip were missed, in their order; none of them was caught. */
export async function whyMissed(
  replayed: ReplayedClip,
  visits: readonly number[],
  near: NearGrid,
  options: ReadingOptions,
): Promise<Why[]> {
  if (visits.length === 0) return [];
  const windows = visits.map((v) =>
    windowOf(replayed, replayed.judged.visits[v] as { start: number; end: number }),
  );
  const levels = levelsBelow(replayed, near);
  const columns = await columnsOf(replayed, replayed.mask, windows, levels, options);
  const seen = await seenBy(replayed, columns);
  const grounds = windows.map((window) => ({ replayed, window, seen, sawBusy: replayed.evidence !== null }));
  const inTime = grounds.map(whyInTime);
  // Without the mask the clip may have to be read once more, so that is done only where it can decide.
  const bareColumns =
    replayed.mask && inTime.includes(null) ? await columnsOf(replayed, null, windows, levels, options) : null;
  const bare = bareColumns && (await seenBy(replayed, bareColumns));
  const whys = grounds.map((ground, i) => inTime[i] ?? whyAtThreshold(ground, bare));
  const open = windows.filter((_, i) => !whys[i]);
  const reach = await reachOf(replayed, columns, open, levels);
  const bareReach = bareColumns && (await reachOf(replayed, bareColumns, open, levels));
  let o = -1;
  return windows.map((window, i) => {
    const why = whys[i];
    if (why) return why;
    o++;
    return whyTooLittle(replayed, window, reach[o] ?? new Map(), bareReach?.[o] ?? null, near);
  });
}

async function columnsOf(
  replayed: ReplayedClip,
  mask: Uint8Array | null,
  windows: readonly Window[],
  levels: readonly number[],
  options: ReadingOptions,
): Promise<ColumnSource> {
  if (replayed.evidence && mask === replayed.mask) return replayed.evidence;
  if (replayed.evidence)
    return evidenceOf(
      replayed.clip,
      replayed.camera,
      mask,
      floorFor(replayed.camera, replayed.level),
      options,
    );
  const wanted = new Set<number>();
  for (const { catching, inView } of windows) {
    for (const k of [...catching, ...inView]) {
      for (let back = 0; back < replayed.settings.persistence; back++) wanted.add(k - back);
    }
  }
  return seeDirectly(replayed, mask, wanted, levels, options);
}

async function seenBy(replayed: ReplayedClip, columns: ColumnSource): Promise<Seen> {
  const both = await columns.bothColumns([replayed.level]);
  return seenIn(both[replayed.camera.area].get(replayed.level)!, both.changed.get(replayed.level)!, replayed);
}
