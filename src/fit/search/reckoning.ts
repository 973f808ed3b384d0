import { plural } from '../../base/figures.js';
import type { Agreement } from '../score/agreement.js';
import type { Size } from './look.js';

/** The steps of a search, in their order. */
const STEPS = ['offset', 'while busy', 'sizes', 'between', 'every size', 'choosing'] as const;
export type Step = (typeof STEPS)[number];

/**
 * Pixels of a frame that take as long to compare as it takes to hold that frame's counts against the fired times: measured on a clip
 * of 320 x 240 and five minutes.
 */
const HOLDING = 13_000;
/** Descriptions that a step tries as a rule, at the small size but for `sizes`, which tries so many at each. */
const USUAL: Record<Step, number> = {
  offset: 11,
  'while busy': 8,
  sizes: 9,
  between: 24,
  'every size': 5,
  choosing: 5,
};

/** In which it is told how much is done. */
const PARTS = 10_000;

/** Told how much is done of all that is reckoned with, never a smaller share than before, and what is tried now. */
export type Reached = (done: number, total: number, at: string) => void;

/**
 * How far a search has come, in pixels compared: what is in hand is known, what comes after it is reckoned with as it usually is, for
 * which descriptions are tried next depends on what was found.
 */
export class Reckoning {
  private readonly usual: Record<Step, number>;
  private step: Step = STEPS[0];
  /** Of the present step, as usual. */
  private left: number;
  /** Of what is in hand. */
  private inHand = 0;
  /** Of the bar: what is not done yet. */
  private open = 1;
  private at = '';
  private best = 0;
  private news = '';

  /**
   * @param first the size at which a search begins
   * @param sizes all that it tries
   */
  constructor(
    private readonly frames: number,
    first: Size,
    sizes: readonly Size[],
    private readonly onReached: Reached,
  ) {
    const each = sizes.reduce((sum, size) => sum + this.unitsOf(size), 0);
    const steps = STEPS.map((step) => [step, USUAL[step] * (step === 'sizes' ? each : this.unitsOf(first))]);
    this.usual = Object.fromEntries(steps) as Record<Step, number>;
    this.left = this.usual[this.step];
  }

  /** A step begins; one that is begun again is reckoned with again, and all that follows it. */
  begin(step: Step): void {
    this.step = step;
    this.left = this.usual[step];
    this.inHand = 0;
  }

  /** Takes in hand what is to be tried next. */
  take(sizes: readonly Size[]): void {
    this.inHand = sizes.reduce((sum, size) => sum + this.unitsOf(size), 0);
  }

  /** @param what in plain words */
  trying(what: string): void {
    this.at = what;
    this.tell();
  }

  /**
   * How the best so far agrees with the fired times. Told only where it is nearer than any before, for a search at another rate begins anew;
   * so what is found in the end, held more exactly, may agree less.
   */
  found({ f1, matched, missing, extra }: Agreement): void {
    if (f1 <= this.best) return;
    this.best = f1;
    const others = extra === 0 ? '' : ` and at ${plural(extra, 'other')}`;
    this.news = `best so far: fires at ${matched} of ${plural(matched + missing, 'time')}${others}, `;
  }

  /** So many frames were compared as so many descriptions of one size compare them. */
  compared(frames: number, { width, height }: Size, descriptions: number): void {
    this.advance(frames * width * height * descriptions);
  }

  /** A description was held against the fired times. */
  held(): void {
    this.advance(this.frames * HOLDING);
  }

  private unitsOf({ width, height }: Size): number {
    return this.frames * (width * height + HOLDING);
  }

  /** Where there turns out to be more than was reckoned with, the rest of the bar is for more: it goes slower, never back. */
  private advance(units: number): void {
    this.left -= units;
    this.inHand -= units;
    const rest = this.rest();
    this.open *= rest / (rest + units);
    this.tell();
  }

  private rest(): number {
    const later = STEPS.slice(STEPS.indexOf(this.step) + 1).reduce((sum, step) => sum + this.usual[step], 0);
    return later + Math.max(this.left, this.inHand, this.frames * HOLDING);
  }

  private tell(): void {
    this.onReached(Math.floor((1 - this.open) * PARTS), PARTS, `${this.news}${this.at}`);
  }
}
