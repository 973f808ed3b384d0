import { BoutCounter } from '../score/bouts.js';
import type { Truth } from '../score/truth.js';
import { hasBit, setBit, wordsFor } from './bits.js';
import { IGNORED, NO_ROW, type Outcomes, TRUE } from './outcomes.js';

/** Labels of some frames, and what a trigger at each of these would turn out to be. */
export interface Judgeable {
  truth: Pick<Truth, 'visits'>;
  outcomes: Outcomes;
}

/** Adds up what triggers turn out to be, by looking the outcome of each frame up. */
export class Tally {
  /** Visits that a photo shows, each once. */
  caught = 0;
  trueTriggers = 0;
  falseTriggers = 0;
  ignoredTriggers = 0;
  /** The same visits, a bit for each in the order of the labels. */
  readonly visitBits: Uint32Array;
  /** Visits caught but not by luck, and a bit for each. */
  private own = 0;
  private readonly ownBits: Uint32Array;
  /** Areas within the boxes of visits, and the least that fires; null: it is not told who was caught by luck. */
  private within: Uint32Array | null = null;
  private minimumArea = 0;
  private readonly trues = new BoutCounter();
  private readonly falses = new BoutCounter();
  private readonly outcomes: Outcomes;

  constructor({ truth, outcomes }: Judgeable) {
    this.outcomes = outcomes;
    this.visitBits = new Uint32Array(wordsFor(truth.visits.length));
    this.ownBits = new Uint32Array(this.visitBits.length);
  }

  /**
   * Forgets what was counted.
   * @param within areas at the level of the settings to be counted next, by the rows of the outcomes
   */
  clear(within: Uint32Array | null = null, minimumArea = 0): void {
    this.within = within;
    this.minimumArea = minimumArea;
    this.own = 0;
    this.ownBits.fill(0);
    this.caught = 0;
    this.trueTriggers = 0;
    this.falseTriggers = 0;
    this.ignoredTriggers = 0;
    this.trues.clear();
    this.falses.clear();
    this.visitBits.fill(0);
  }

  /** The visits caught but not by luck, as far as that is told, a bit for each. */
  get ownVisitBits(): Uint32Array {
    return this.within ? this.ownBits : this.visitBits;
  }

  /** Visits caught of which it is told that something outside their box fired each time. */
  get byLuck(): number {
    return this.within ? this.caught - this.own : 0;
  }

  get trueBouts(): number {
    return this.trues.bouts;
  }

  get trueSquares(): number {
    return this.trues.squares;
  }

  get falseBouts(): number {
    return this.falses.bouts;
  }

  get falseSquares(): number {
    return this.falses.squares;
  }

  /** Counts a trigger at a frame, the first of the outcomes' being 0; frames rise. */
  add(frame: number): void {
    const { times, verdict, visitStart, visitList, rows } = this.outcomes;
    const { within, minimumArea } = this;
    const outcome = verdict[frame];
    if (outcome === TRUE) {
      this.trueTriggers++;
      this.trues.add(times[frame]!);
    } else if (outcome === IGNORED) {
      this.ignoredTriggers++;
    } else {
      this.falseTriggers++;
      this.falses.add(times[frame]!);
    }
    const end = visitStart[frame + 1]!;
    for (let i = visitStart[frame]!; i < end; i++) {
      const visit = visitList[i]!;
      if (setBit(this.visitBits, visit)) this.caught++;
      if (within === null || hasBit(this.ownBits, visit)) continue;
      const row = rows[i]!;
      if (row !== NO_ROW && within[row]! < minimumArea) continue;
      setBit(this.ownBits, visit);
      this.own++;
    }
  }

  hasCaught(visit: number): boolean {
    return hasBit(this.visitBits, visit);
  }
}

/** What triggers at some frames turn out to be. */
export function tallyOf(part: Judgeable, fired: Iterable<number>): Tally {
  const tally = new Tally(part);
  for (const frame of fired) tally.add(frame);
  return tally;
}
