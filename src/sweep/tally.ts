import { BoutCounter } from '../score/bouts.js';
import type { Truth } from '../score/truth.js';
import { hasBit, setBit, wordsFor } from './bits.js';
import { IGNORED, type Outcomes, TRUE } from './outcomes.js';

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
  private readonly trues = new BoutCounter();
  private readonly falses = new BoutCounter();
  private readonly outcomes: Outcomes;

  constructor({ truth, outcomes }: Judgeable) {
    this.outcomes = outcomes;
    this.visitBits = new Uint32Array(wordsFor(truth.visits.length));
  }

  clear(): void {
    this.caught = 0;
    this.trueTriggers = 0;
    this.falseTriggers = 0;
    this.ignoredTriggers = 0;
    this.trues.clear();
    this.falses.clear();
    this.visitBits.fill(0);
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
    const { times, verdict, visitStart, visitList } = this.outcomes;
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
      if (setBit(this.visitBits, visitList[i]!)) this.caught++;
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
