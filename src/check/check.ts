import { figure, significant } from '../base/figures.js';
import { boutsOf } from '../score/bouts.js';
import { addCounts, type Score, scoreOf } from '../score/score.js';
import type { Accepted } from './accepted.js';
import { changesBetween } from './changes.js';
import { type ClipVerdict, type Differences, differences, verdictOn, whyNotComparable } from './compare.js';
import { type Inference, infer } from './infer.js';
import { type LimitName, type LimitResult, limitResults } from './limits.js';
import type { ClipResult, Replayed, Results } from './results.js';
import type { Suite } from './suite.js';

/** One clip against what it gave before. */
export interface ClipChecked extends Differences {
  clip: string;
  verdict: ClipVerdict;
  /** Why it is not comparable; null where it is. */
  why: string | null;
  /** Whether the mask is another one. */
  maskChanged: boolean;
  /** Null where it is not comparable. */
  before: Score | null;
  /** Null where the clip is no longer in the suite. */
  now: Score | null;
}

/** One reason why a check fails. */
export interface Reason {
  /** Null: all clips together. */
  clip: string | null;
  /** The limit that is broken; null where it is no limit. */
  limit: LimitName | null;
  text: string;
}

export interface Checked {
  verdict: 'holds' | 'fails';
  reasons: Reason[];
  /** What changed apart from the results: engine, camera, settings. */
  changed: string[];
  /** In the suite's order; then clips that are no longer in it. */
  clips: ClipChecked[];
  /** All clips that can be compared, together; null where there are none. */
  before: Score | null;
  now: Score | null;
  limits: LimitResult[];
  inference: Inference;
}

const NONE: Differences = {
  lost: [],
  gained: [],
  newFalse: [],
  goneFalse: [],
  movedFalse: [],
  newOther: [],
  goneOther: [],
};

/**
 * Holds what a suite gives now against what it gave before. It fails when a visit is newly lost, when a limit is broken
 * and nobody accepted that, and when a clip cannot be compared, for a check that compares nothing must not pass; in a
 * strict suite also when anything else changed. A camera, settings or an engine that changed are what is being checked:
 * they are named, and results stay comparable. What is inferred for other footage informs; it never fails.
 * @param before null: nothing was accepted yet
 * @throws Problem 'bad-field' for a limit on something the clips have nothing of
 */
export function check(
  suite: Pick<Suite, 'file' | 'clips' | 'limits' | 'strict'>,
  before: (Results & Partial<Pick<Accepted, 'brokenLimits'> & Pick<Replayed, 'controls'>>) | null,
  now: Replayed,
): Checked {
  const clips = [...now.clips.map((clip) => clipChecked(clip, before)), ...dropped(before, now)];
  const compared = clips.filter(({ verdict }) => verdict !== 'not comparable');
  const limits = limitsOf(suite, now, before?.brokenLimits ?? []);
  const reasons = [
    ...clips.flatMap((clip) => reasonsOf(clip, suite.strict)),
    ...limits.filter(({ holds, accepted }) => !holds && !accepted).map(limitReason),
  ];
  return {
    verdict: reasons.length === 0 ? 'holds' : 'fails',
    reasons,
    changed: before ? changesBetween(before, now) : [],
    clips,
    ...together(compared, before, now),
    limits,
    inference: infer(compared.map((differences) => ({ clip: differences.clip, differences }))),
  };
}

function clipChecked(now: Replayed['clips'][number], before: Results | null): ClipChecked {
  const earlier = before?.clips.find(({ clip }) => clip === now.clip);
  const why = earlier ? whyNotComparable(earlier, now) : before ? 'it is new' : 'nothing was accepted yet';
  const common = { clip: now.clip, now: scoreOf(now.counts) };
  if (!earlier || why !== null) {
    return { ...common, verdict: 'not comparable', why, maskChanged: false, before: null, ...NONE };
  }
  const found = differences(earlier, now);
  return {
    ...common,
    verdict: verdictOn(found),
    why: null,
    maskChanged: earlier.mask !== now.mask,
    before: scoreOf(countsOf(earlier, now.counts.watchedSeconds)),
    ...found,
  };
}

function dropped(before: Results | null, now: Results): ClipChecked[] {
  const kept = new Set(now.clips.map(({ clip }) => clip));
  return (before?.clips ?? [])
    .filter(({ clip }) => !kept.has(clip))
    .map(({ clip }) => ({
      clip,
      verdict: 'not comparable',
      why: 'it is no longer in the suite',
      maskChanged: false,
      before: null,
      now: null,
      ...NONE,
    }));
}

function countsOf({ visits, triggers }: ClipResult, watchedSeconds: number) {
  const timesOf = (verdict: string) => triggers.flatMap((t) => (t.verdict === verdict ? [t.time] : []));
  const verdicts = (verdict: string) => timesOf(verdict).length;
  const [trues, falses] = [boutsOf(timesOf('true')), boutsOf(timesOf('false'))];
  return {
    visits: visits.length,
    caught: visits.filter(({ caught }) => caught).length,
    // Accepted results hold no boxes, so a check says nothing of luck, neither before nor now.
    boxed: 0,
    byLuck: 0,
    trueTriggers: verdicts('true'),
    falseTriggers: verdicts('false'),
    ignoredTriggers: verdicts('ignored'),
    watchedSeconds,
    trueBouts: trues.bouts,
    trueSquares: trues.squares,
    falseBouts: falses.bouts,
    falseSquares: falses.squares,
  };
}

/** Scores over all clips, summed in the order of their names, so that the suite's order changes no digit. */
function together(compared: readonly ClipChecked[], before: Results | null, now: Replayed) {
  if (compared.length === 0) return { before: null, now: null };
  const names = new Set(compared.map(({ clip }) => clip));
  const counted = now.clips
    .filter(({ clip }) => names.has(clip))
    .sort((a, b) => (a.clip < b.clip ? -1 : 1))
    .map(({ clip, counts }) => {
      const earlier = before?.clips.find((other) => other.clip === clip) as ClipResult;
      return { now: counts, before: countsOf(earlier, counts.watchedSeconds) };
    });
  return {
    before: scoreOf(addCounts(counted.map(({ before }) => before))),
    now: scoreOf(addCounts(counted.map(({ now }) => now))),
  };
}

function limitsOf(
  { file, clips, limits }: Pick<Suite, 'file' | 'clips' | 'limits'>,
  now: Replayed,
  broken: Accepted['brokenLimits'],
): LimitResult[] {
  const sorted = [...now.clips].sort((a, b) => (a.clip < b.clip ? -1 : 1));
  const all = scoreOf(addCounts(sorted.map(({ counts }) => counts)));
  const own = clips.flatMap(({ name, limits }, i) => {
    const result = now.clips.find(({ clip }) => clip === name);
    return result
      ? limitResults(limits, name, scoreOf(result.counts), `${file}: clips[${i}].limits`, broken)
      : [];
  });
  return [...limitResults(limits, null, all, `${file}: limits`, broken), ...own];
}

function reasonsOf({ clip, verdict, why, lost }: ClipChecked, strict: boolean): Reason[] {
  const reason = (text: string): Reason[] => [{ clip, limit: null, text: `${clip}: ${text}` }];
  if (verdict === 'not comparable') return reason(`not comparable: ${why}`);
  if (lost.length > 0) return reason(`newly lost ${lost.length === 1 ? 'a visit' : `${lost.length} visits`}`);
  return strict && verdict !== 'same' ? reason('its results changed, and the suite is strict') : [];
}

function limitReason({ clip, limit, bound, value }: LimitResult): Reason {
  const of = clip ?? 'all clips';
  const isRecall = limit === 'recall';
  const [here, wanted] = isRecall ? [100 * value, 100 * bound] : [value, bound];
  const asked = significant(wanted, 6);
  const short = isRecall ? String(Math.round(here)) : figure(here);
  // As it is written everywhere; with more digits only where those would not tell it from what was asked for.
  const found = short === asked ? significant(here, 4) : short;
  const text = isRecall
    ? `${of}: catches ${found} % of the visits, at least ${asked} % are asked for`
    : `${of}: fires falsely at ${found} an hour, at most ${asked} an hour is allowed`;
  return { clip, limit, text };
}
