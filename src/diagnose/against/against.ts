import type { ReadingOptions } from '../../measure/evidence.js';
import type { JudgedTrigger } from '../../score/replayed.js';
import type { MissNote, MissReason } from '../diagnosis.js';
import { whyMissed } from '../missed/missed.js';
import { gridNear } from '../missed/nearest-grid.js';
import type { ReplayedClip } from '../replayed-clip.js';
import { type Silence, seenUnder, type Under, whyNotThere } from './why.js';

export { type Silence, silences } from './why.js';

/** Which of two groups of settings: those diagnosed, or those they are held against. */
export type Side = 'these' | 'other';

/** How two groups of settings differ on one clip. Times in seconds from its start. */
export interface AgainstResult {
  /** As it was named on the command line. */
  clip: string;
  /** Triggers at the same times, and visits that both caught. */
  both: { triggers: number; visits: number };
  /** Triggers of one only, in order of time. */
  triggers: readonly TriggerOfOne[];
  /** Visits caught by one only, in order of start. */
  visits: readonly VisitOfOne[];
}

export interface TriggerOfOne {
  time: number;
  verdict: JudgedTrigger['verdict'];
  firedBy: Side;
  /** Why the others did not fire there. */
  why: Silence;
  /** One plain sentence. */
  evidence: string;
}

export interface VisitOfOne {
  /** Its place among the clip's animal visits. */
  visit: number;
  start: number;
  end: number;
  name: string | null;
  caughtBy: Side;
  /** Why the others missed it. */
  why: MissReason;
  note?: MissNote;
  /** One plain sentence. */
  evidence: string;
}

/** Holds two groups of settings against each other on the same clip and camera. */
export async function compareCases(
  these: ReplayedClip,
  other: ReplayedClip,
  options: ReadingOptions,
): Promise<AgainstResult> {
  const replayed = await seenUnder(these, other, options);
  const b = await seenUnder(other, these, options);
  const firedByOther = new Set(other.fired);
  return {
    clip: these.clip.dir,
    both: {
      triggers: these.fired.filter((k) => firedByOther.has(k)).length,
      visits: these.judged.visits.filter(({ caught }, v) => caught && other.judged.visits[v]?.caught).length,
    },
    triggers: [...triggersOfOne('these', replayed, b), ...triggersOfOne('other', b, replayed)].sort(
      (x, y) => x.time - y.time,
    ),
    visits: [
      ...(await visitsOfOne('these', these, other, options)),
      ...(await visitsOfOne('other', other, these, options)),
    ].sort((x, y) => x.visit - y.visit),
  };
}

function triggersOfOne(firedBy: Side, by: Under, silent: Under): TriggerOfOne[] {
  const others = new Set(silent.replayed.fired);
  return by.replayed.fired.flatMap((frame, i) => {
    if (others.has(frame)) return [];
    const { time, verdict } = by.replayed.judged.triggers[i] as JudgedTrigger;
    return [{ time, verdict, firedBy, ...whyNotThere(by, silent, frame) }];
  });
}

async function visitsOfOne(
  caughtBy: Side,
  by: ReplayedClip,
  missing: ReplayedClip,
  options: ReadingOptions,
): Promise<VisitOfOne[]> {
  const visits = by.judged.visits.flatMap(({ caught }, v) =>
    caught && !missing.judged.visits[v]?.caught ? [v] : [],
  );
  const whys = await whyMissed(missing, visits, gridNear(missing.camera, missing.settings), options);
  return whys.map((why, i) => {
    const visit = visits[i]!;
    const { start, end, name } = by.judged.visits[visit] as ReplayedClip['judged']['visits'][number];
    return { visit, start, end, name: name ?? null, caughtBy, ...why };
  });
}
