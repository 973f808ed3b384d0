import type { AreaKind } from '../../sweep/columns.js';
import type { Wanted } from '../fired/wanted.js';
import { plausibility } from '../score/plausible.js';
import {
  type Best,
  middleOfBest,
  onScale,
  placeOf,
  type Scores,
  STRICTER,
  scoreAll,
  support,
} from '../score/scores.js';
import { type Axes, closeAxes, denseAxes, fineAxes } from '../search/axes.js';
import type { Look } from '../search/look.js';
import type { Searched, Tried } from '../search/tried.js';

/** A description whose values were looked through so closely that hardly any between them fires otherwise. */
export interface Pinned extends Tried {
  /** By an offset of their own, with no more left of the times than rounding leaves. */
  scores: Scores;
}

/** Of triggers: kinds, persistences and cooldowns that come nearer than this to the best are looked through too. */
const LOOKED_THROUGH_WITHIN = 1;

/**
 * Looks through the values of a description, from wide steps to narrow ones (denseAxes), and holds them against the times as exactly as those were told.
 * Where the steps are wide what is right lies between them, and what they show to be as good as it is so only within their tolerance.
 * @returns for what is counted, one region or all pixels, each that comes near; none where nothing comes near. Worth is how well the times are supported.
 */
export async function pinDown(
  one: Tried,
  searched: Searched,
  wanted: Wanted,
  slack: number,
): Promise<Pinned[]> {
  const { values } = one.best;
  const { floor, looking } = searched;
  const { length } = wanted.fired;
  const pixels = one.look.width * one.look.height;
  const { cooldowns } = searched;
  const scored = async (axes: Axes, how: 'alone' | 'exactly' = 'alone') =>
    scoreAll(await one.source.bothColumns(axes.levels), looking.times, axes, wanted, how);
  const scores = await scored(fineAxes(values, floor, pixels, cooldowns));
  const best = middleOfBest(scores, length);
  if (!best) return [];
  // The zoom around the first best is finer than these axes.
  const middle = best.most >= one.best.most ? best.values : values;
  const peak = middleOfBest(await scored(closeAxes(middle, floor, pixels, cooldowns)), length);
  const most = Math.max(best.most, peak?.most ?? 0);
  const least = most - LOOKED_THROUGH_WITHIN / Math.max(1, length);
  const pinned: Pinned[] = [];
  for (const kind of scores.axes.kinds) {
    const ofKind = only(scores, kind);
    const wide = middleOfBest(ofKind, length);
    const isNarrow = peak?.values.kind === kind && peak.most > (wide?.most ?? 0) + slack / 2;
    const start = isNarrow ? peak : wide;
    if (!start || start.most < least) continue;
    const { persistences, cooldowns: waits } = reaching(ofKind, least, start);
    const around = await scored(denseAxes(start.values, floor, pixels, persistences, waits), 'exactly');
    const found = middleOfBest(around, length, STRICTER);
    if (found)
      pinned.push({
        ...one,
        scores: around,
        best: found,
        worth: worthOf(one.look, around, found.own, length),
      });
  }
  return pinned;
}

/** How well the times are supported by a description, which is as likely as it is beforehand. */
export function worthOf(look: Look, scores: Scores, own: number, fired: number): number {
  const supported = support(scores, look.width * look.height, own, fired, STRICTER);
  return supported + onScale(Math.log(plausibility(look)), fired, STRICTER);
}

/** Those that count alike. */
function only({ axes, values }: Scores, kind: AreaKind): Scores {
  const each = values.length / axes.kinds.length;
  const at = axes.kinds.indexOf(kind);
  return { axes: { ...axes, kinds: [kind] }, values: values.subarray(at * each, (at + 1) * each) };
}

/** Persistences and cooldowns under which some combination comes so near, and those of one that does. */
function reaching(scores: Scores, least: number, { values }: Best) {
  const { axes } = scores;
  const persistences = new Set([values.persistence]);
  const cooldowns = new Set([values.cooldown]);
  scores.values.forEach((value, index) => {
    if (value < least) return;
    const place = placeOf(scores, index);
    persistences.add(axes.persistences[place[3]]!);
    cooldowns.add(axes.cooldowns[place[4]]!);
  });
  const rising = (all: Set<number>) => [...all].sort((a, b) => a - b);
  return { persistences: rising(persistences), cooldowns: rising(cooldowns) };
}
