import { BOUT } from '../../score/bouts.js';
import { type Ratio, wilson } from '../../score/intervals.js';
import type { Difference } from '../../score/paired-difference.js';
import { t95 } from '../../score/student.js';
import type { Judgement } from '../diagnosis.js';
import { outputs } from '../triggers/model/network.js';
import { adjusted, type Example, type Layer, LEAST_LIKELY, learn, nothingLearnt } from './layer.js';

/** A trigger whose cause was told. */
export interface ToldTrigger extends Example {
  /** Place of its clip. */
  clip: number;
  /** Seconds from its clip's start. */
  time: number;
}

/** Stretches of time into which one clip is cut, each left out in turn. */
const BLOCKS = 5;

/** Triggers in bouts, none of which is cut apart: what fires within half a minute has the same cause more often than not. */
export function boutsOf(told: readonly ToldTrigger[]): ToldTrigger[][] {
  const bouts: ToldTrigger[][] = [];
  for (const trigger of [...told].sort((a, b) => a.clip - b.clip || a.time - b.time)) {
    const opened = bouts.at(-1)?.[0];
    if (opened && opened.clip === trigger.clip && trigger.time - opened.time <= BOUT)
      bouts.at(-1)!.push(trigger);
    else bouts.push([trigger]);
  }
  return bouts;
}

/**
 * Leaves out one clip after the other, or of a single clip one block of time after the other, learns from the rest, and
 * holds both against what the owner told of what was left out.
 * @param bouts at least four
 */
export function judge(bouts: readonly (readonly ToldTrigger[])[]): Judgement {
  const clips = new Set(bouts.map((bout) => bout[0]!.clip));
  const apart =
    clips.size > 1
      ? (bout: readonly ToldTrigger[]) => bout[0]!.clip
      : (_: readonly ToldTrigger[], i: number) => Math.floor((i * BLOCKS) / bouts.length);
  const folds = bouts.map(apart);
  const layers = new Map(
    [...new Set(folds)].map((fold) => [fold, learn(bouts.filter((_, i) => folds[i] !== fold).flat())]),
  );
  const held = bouts.map((bout, i) => bout.map((trigger) => tried(layers.get(folds[i]!)!, trigger)));
  const all = held.flat();
  const share = (right: (one: Tried) => boolean) => wilson(all.filter(right).length, all.length) as Ratio;
  const mean = (of: (one: Tried) => number) => all.reduce((sum, one) => sum + of(one), 0) / all.length;
  return {
    how: clips.size > 1 ? 'leave one clip out' : 'blocks of time',
    right: { shipped: share((one) => one.shippedRight), taught: share((one) => one.taughtRight) },
    logLoss: {
      shipped: mean((one) => one.shipped),
      taught: mean((one) => one.taught),
      gained: gainOf(held),
    },
  };
}

interface Tried {
  shipped: number;
  taught: number;
  shippedRight: boolean;
  taughtRight: boolean;
}

function tried(layer: Layer, { probabilities, cause }: ToldTrigger): Tried {
  const truth = outputs.indexOf(cause);
  const [before, after] = [adjusted(nothingLearnt, probabilities), adjusted(layer, probabilities)];
  const loss = (all: readonly number[]) => -Math.log(Math.max(LEAST_LIKELY, all[truth]!));
  const right = (all: readonly number[]) => all.indexOf(Math.max(...all)) === truth;
  return {
    shipped: loss(before),
    taught: loss(after),
    shippedRight: right(before),
    taughtRight: right(after),
  };
}

/** The mean over triggers, whose bouts come independently: the ratio estimator of Cochran 1977, Sampling Techniques, 6.4. */
function gainOf(bouts: readonly (readonly Tried[])[]): Difference {
  const sums = bouts.map((bout) => bout.reduce((sum, { shipped, taught }) => sum + shipped - taught, 0));
  const triggers = bouts.reduce((sum, bout) => sum + bout.length, 0);
  const value = sums.reduce((a, b) => a + b, 0) / triggers;
  const squares = sums.reduce((sum, s, i) => sum + (s - value * bouts[i]!.length) ** 2, 0);
  const half = (t95(bouts.length - 1) * Math.sqrt((squares * bouts.length) / (bouts.length - 1))) / triggers;
  return { value, low: value - half, high: value + half };
}
