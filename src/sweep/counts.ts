import { Problem } from '../base/problem.js';
import type { Counts } from '../score/score.js';
import type { Truth } from '../score/truth.js';
import { hasBit, wordsFor } from './bits.js';
import type { SettingsGroup } from './groups.js';
import type { Outcomes } from './outcomes.js';
import { Tally } from './tally.js';
import type { Seen, SweepVisitor } from './walk.js';

/** Bytes in which it is noted, for each setting, which visits it catches. */
const MOST_BYTES = 2 ** 30;

/** @throws Problem 'bad-settings' */
function refuseMore(settings: number, visits: number, words: number): void {
  const most = Math.floor(MOST_BYTES / (4 * Math.max(1, words)));
  if (settings <= most) return;
  throw new Problem(
    'bad-settings',
    `controls: expected at most ${most} combinations of dial positions for a clip of ${visits} visits, found ${settings}; make the steps coarser, or cut the clip into several`,
  );
}

/** Counts of one clip for every setting of a grid; typed arrays indexed by the setting's number. */
export class SweepCounts {
  readonly caught: Uint32Array;
  /** Those of them that were not caught by luck, as far as that can be told. */
  readonly own: Uint32Array;
  readonly trueTriggers: Uint32Array;
  readonly falseTriggers: Uint32Array;
  readonly ignoredTriggers: Uint32Array;
  readonly trueBouts: Uint32Array;
  readonly trueSquares: Uint32Array;
  readonly falseBouts: Uint32Array;
  readonly falseSquares: Uint32Array;
  /** For each setting one bit for each visit, in whole words. */
  private readonly visitBits: Uint32Array;
  /** The same of those not caught by luck; null: that is told of none. */
  private readonly ownBits: Uint32Array | null;
  private readonly words: number;

  /** Visits of which it can be told whether they were caught by luck. */
  private readonly boxed: number;

  /** @param tellsLuck whether it is told which visits were caught by luck, where they have a box */
  constructor(
    settings: number,
    readonly truth: Truth,
    tellsLuck = false,
  ) {
    this.boxed = tellsLuck ? truth.visits.filter(({ box }) => box).length : 0;
    this.words = wordsFor(truth.visits.length);
    refuseMore(settings, truth.visits.length, (this.boxed > 0 ? 2 : 1) * this.words);
    this.visitBits = new Uint32Array(settings * this.words);
    this.ownBits = this.boxed > 0 ? new Uint32Array(settings * this.words) : null;
    this.caught = new Uint32Array(settings);
    this.own = new Uint32Array(settings);
    this.trueTriggers = new Uint32Array(settings);
    this.falseTriggers = new Uint32Array(settings);
    this.ignoredTriggers = new Uint32Array(settings);
    this.trueBouts = new Uint32Array(settings);
    this.trueSquares = new Uint32Array(settings);
    this.falseBouts = new Uint32Array(settings);
    this.falseSquares = new Uint32Array(settings);
  }

  /**
   * @param visitBits which visits were caught, bit by bit
   * @param ownBits which of them not by luck
   */
  set(setting: number, counts: TriggerCounts, visitBits: Uint32Array, ownBits = visitBits): void {
    this.caught[setting] = counts.caught;
    this.own[setting] = counts.caught - counts.byLuck;
    this.trueTriggers[setting] = counts.trueTriggers;
    this.falseTriggers[setting] = counts.falseTriggers;
    this.ignoredTriggers[setting] = counts.ignoredTriggers;
    this.trueBouts[setting] = counts.trueBouts;
    this.trueSquares[setting] = counts.trueSquares;
    this.falseBouts[setting] = counts.falseBouts;
    this.falseSquares[setting] = counts.falseSquares;
    this.visitBits.set(visitBits, setting * this.words);
    this.ownBits?.set(ownBits, setting * this.words);
  }

  /** Whether a setting caught a visit, by its place in the truth's list. */
  caughtVisit(setting: number, visit: number): boolean {
    return hasBit(this.visitBits, visit, setting * this.words);
  }

  /** Whether it did so not by luck, as far as that can be told. */
  caughtOwn(setting: number, visit: number): boolean {
    return hasBit(this.ownBits ?? this.visitBits, visit, setting * this.words);
  }

  at(setting: number): Counts {
    return {
      visits: this.truth.visits.length,
      caught: this.caught[setting]!,
      boxed: this.boxed,
      byLuck: this.caught[setting]! - this.own[setting]!,
      trueTriggers: this.trueTriggers[setting]!,
      falseTriggers: this.falseTriggers[setting]!,
      ignoredTriggers: this.ignoredTriggers[setting]!,
      trueBouts: this.trueBouts[setting]!,
      trueSquares: this.trueSquares[setting]!,
      falseBouts: this.falseBouts[setting]!,
      falseSquares: this.falseSquares[setting]!,
      watchedSeconds: this.truth.watchedSeconds,
    };
  }
}

type TriggerCounts = Omit<Counts, 'visits' | 'boxed' | 'watchedSeconds'>;

/** Counts what the triggers of every setting turn out to be. */
export class OutcomeCounter implements SweepVisitor {
  readonly counts: SweepCounts;
  private readonly tally: Tally;

  /**
   * @param settings how many the grid has
   * @param tellsLuck whether areas within the boxes of visits are at hand
   */
  constructor(settings: number, part: { truth: Truth; outcomes: Outcomes }, tellsLuck = false) {
    this.counts = new SweepCounts(settings, part.truth, tellsLuck);
    this.tally = new Tally(part);
  }

  begin({ minimumArea }: Pick<SettingsGroup, 'minimumArea'>, { within }: Pick<Seen, 'within'>): void {
    this.tally.clear(within, minimumArea);
  }

  add(frame: number): void {
    this.tally.add(frame);
  }

  end({ settings }: Pick<SettingsGroup, 'settings'>): void {
    for (const setting of settings) {
      this.counts.set(setting, this.tally, this.tally.visitBits, this.tally.ownVisitBits);
    }
  }
}
