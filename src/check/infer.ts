import { BOUT, boutBalances } from '../score/bouts.js';
import { holm, leastP, signFlip } from '../score/paired.js';
import type { Differences } from './compare.js';

export { BOUT };

export type Answer = 'better' | 'worse' | 'too little to tell';

/** One question asked of the differences. */
export interface Test {
  /** Null: over all clips together. */
  clip: string | null;
  of: 'visits' | 'false triggers';
  /** Visits lost and gained, or false triggers that are new and gone. */
  worse: number;
  better: number;
  /** What counts as one: visits that changed, or bouts of triggers in which new and gone ones do not balance. */
  units: number;
  /** Two-sided. */
  p: number;
  /** Corrected for the number of tests; null where so few differ that no test could tell. */
  adjusted: number | null;
  answer: Answer;
}

/** What the differences mean for footage not seen. */
export interface Inference {
  /** The chance, over all tests together, of an answer where there is no difference. */
  level: number;
  /** Clips that could be compared. */
  clips: number;
  /** The fewest changes from which there can be an answer. */
  fewest: number;
  /** Those over all clips first; clip by clip only where there are several. */
  tests: Test[];
  /** What the answers rest on, one sentence each. */
  assumes: string[];
}

const LEVEL = 0.05;
const assumes = [
  'the clips stand for the footage that is meant: the answers are for more of the same, not for other sites or weather',
  'visits are independent of one another',
  `false triggers that differ within ${BOUT} seconds come from one gust and count as one bout; bouts are independent of one another`,
];

/**
 * Asks, over all clips and of each clip where several changed, whether more visits are lost than gained, and whether
 * more false triggers are new than gone, than chance would give. Visits: exact McNemar. False triggers come
 * in bursts, so that what differs is gathered into bouts, and the exact test asks whether bouts lean one way; where
 * every bout is one trigger it is the exact conditional test of two counts.
 *
 * Corrected so that all answers together are wrong no more often than the level says: visits and false triggers
 * have half of it each, so that what is said of visits depends on visits alone; within each, Holm's correction with half
 * of the weight on the test over all clips and half on single clips. A test with so few changes that it could not tell
 * whatever came out is not counted (after Tarone 1990, Biometrics 46:515-522).
 */
export function infer(clips: readonly { clip: string; differences: Differences }[]): Inference {
  const tests = clips.length === 0 ? [] : questions.flatMap((question) => answersTo(question, clips));
  tests.sort((a, b) => Number(a.clip !== null) - Number(b.clip !== null));
  let fewest = 0;
  while (!canTell(fewest)) fewest++;
  return { level: LEVEL, clips: clips.length, fewest, tests, assumes };
}

/** One question, and what answers it: the changes of one clip, each whole and above 0 where it is for the worse. */
interface Question {
  of: Test['of'];
  worse: 'lost' | 'newFalse';
  better: 'gained' | 'goneFalse';
  units(differences: Differences): number[];
}

const questions: readonly Question[] = [
  {
    of: 'visits',
    worse: 'lost',
    better: 'gained',
    units: ({ lost, gained }) => [...lost.map(() => 1), ...gained.map(() => -1)],
  },
  { of: 'false triggers', worse: 'newFalse', better: 'goneFalse', units: balances },
];

function answersTo(question: Question, clips: readonly { clip: string; differences: Differences }[]): Test[] {
  const all = ask(
    question,
    null,
    clips.map(({ differences }) => differences),
  );
  const single = clips
    .map(({ clip, differences }) => ask(question, clip, [differences]))
    .filter(({ units }) => units > 0);
  const asked = single.length > 1 ? [all, ...single] : [all];
  const able = asked.filter(({ units }) => canTell(units));
  const weightOf = ({ clip }: Asked) => (clip === null ? Math.max(1, able.length - 1) : 1);
  const corrected = holm(
    able.map(({ p }) => p),
    able.map(weightOf),
  );
  return asked.map(({ leans, ...test }, i) => {
    const place = able.indexOf(asked[i] as Asked);
    const adjusted = place < 0 ? null : Math.min(1, questions.length * corrected[place]!);
    const told = adjusted !== null && adjusted <= LEVEL;
    return { ...test, adjusted, answer: !told ? 'too little to tell' : leans > 0 ? 'worse' : 'better' };
  });
}

/** Whether so many changes can be an answer, if all go one way. */
function canTell(units: number): boolean {
  return questions.length * leastP(units) <= LEVEL;
}

type Asked = Omit<Test, 'adjusted' | 'answer'> & { leans: number };

function ask(
  { of, worse, better, units }: Question,
  clip: string | null,
  all: readonly Differences[],
): Asked {
  const count = (pick: keyof Differences) =>
    all.reduce((sum, differences) => sum + differences[pick].length, 0);
  const changes = all.flatMap(units).filter((change) => change !== 0);
  return {
    clip,
    of,
    worse: count(worse),
    better: count(better),
    units: changes.length,
    p: signFlip(changes),
    leans: changes.reduce((sum, change) => sum + change, 0),
  };
}

/** New minus gone false triggers, bout by bout. */
export function balances({ newFalse, goneFalse }: Pick<Differences, 'newFalse' | 'goneFalse'>): number[] {
  const times = (triggers: readonly { time: number }[]) => triggers.map(({ time }) => time);
  return boutBalances(times(newFalse), times(goneFalse));
}
