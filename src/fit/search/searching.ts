import type { Clip } from '../../clip/open.js';
import type { Clock } from '../fired/clock.js';
import type { Told } from '../fired/told.js';
import type { Tolerance } from '../score/agreement.js';
import { coarseAxes } from './axes.js';
import { offsetsFor } from './beginning.js';
import { CARRIED, carriedOn, NEARLY_ALL } from './carried.js';
import { setRightBy } from './holding.js';
import {
  coarseReferences,
  firstSize,
  type Look,
  manyReferences,
  referencesAround,
  type Size,
  sizesFor,
  stoppingReferences,
} from './look.js';
import type { Looking } from './looking.js';
import type { Reckoning } from './reckoning.js';
import type { Searched, Tried } from './tried.js';
import { type Candidate, Tries } from './tries.js';

/** What the owner knows of the camera beforehand. */
export interface Known {
  size: Size | null;
  /** What the cooldown's dial offers; empty: anything. */
  cooldowns: readonly number[];
  /** Seconds that the camera is busy with its photos, whatever its cooldown. */
  busy: number;
  /** Frames a second; null: as the clip's. */
  rate: number | null;
}

/** Smoothing that is tried; wider is rare, and told by smaller sizes as well. */
const SMOOTHS = [0, 1, 2, 3];
const STOPPING = ['frozen', 'restarts'] as const;

/** A search at one rate of frames: what was tried by now, and what is tried next, step by step. */
export class Searching {
  private readonly tries: Tries;
  private readonly sizesTried: Size[];
  private readonly first: Size;

  constructor(
    private readonly clip: Clip,
    private readonly told: Told,
    known: Known,
    tolerance: Tolerance,
    private readonly looking: Looking,
    reckoning: Reckoning,
  ) {
    this.tries = new Tries(clip, told, known, tolerance, looking, reckoning);
    this.sizesTried = sizesFor(clip, known.size);
    this.first = firstSize(this.sizesTried);
  }

  /** How near the best comes by now. */
  get most(): number {
    return this.tries.ranked()[0]?.best.own ?? 0;
  }

  result(): Searched {
    const { looking, reckoning, tolerance, cooldowns, cooldownsBy, floor } = this.tries;
    return { looking, reckoning, tolerance, cooldowns, cooldownsBy, floor, tried: this.tries.ranked() };
  }

  /** References at a small size; where on the clip the told times lie. */
  async begin(): Promise<void> {
    const { tries, looking, told } = this;
    const looks = coarseReferences.map(
      (reference): Look => ({ ...this.first, smooth: 1, reference, whileBusy: 'continues' }),
    );
    const sources = await looking.at(
      looks.map((look) => ({ look, busy: null })),
      tries.floor,
    );
    const { times } = looking;
    const { seconds } = this.clip;
    const { width, height } = this.first;
    const axes = coarseAxes(tries.floor, width * height, tries.cooldowns);
    const window = tries.tolerance.most + (DRIFT_PER_HOUR / 2) * (seconds / 3600);
    const offsets = await offsetsFor(sources, times, told, seconds, axes, window);
    let most = -1;
    let clock: Clock = { offset: 0, drift: 0 };
    for (const { offset } of offsets) {
      tries.clock = { offset, drift: 0 };
      tries.clear();
      for (const [i, look] of looks.entries()) await tries.glance(look, sources[i]!, window);
      const [best] = tries.ranked();
      if (!best || best.best.most <= most) continue;
      most = best.best.most;
      clock = await setRightBy(best, best.clock, times, tries.wanted(window, best.clock));
    }
    tries.clock = clock;
    tries.clear();
    for (const [i, look] of looks.entries()) await tries.hold(look, sources[i]!);
    await tries.tellFound();
    tries.takeClock();
  }

  /**
   * References without wide gaps, at every usual smoothing of a small size: with few times in whole seconds one beside the right one
   * may explain less than one of another kind, so that a climb from the best of a few never comes by.
   */
  async widely(): Promise<void> {
    const looks = manyReferences.flatMap((reference) =>
      SMOOTHS.slice(0, 3).map(
        (smooth): Look => ({ ...this.first, smooth, reference, whileBusy: 'continues' }),
      ),
    );
    await this.tries.tryAll(looks.map((look) => ({ look, near: null })));
    this.tries.takeClock();
  }

  /** References that depend on triggers: those that go on where these explain all and the camera does fall silent, or else of all kinds. */
  async whileBusy(): Promise<void> {
    const { tries } = this;
    const ranked = tries.ranked();
    const isPlain = (ranked[0]?.best.most ?? 0) >= NEARLY_ALL && !tries.isFiringOn;
    const looks = isPlain
      ? ranked.slice(0, CARRIED).map(({ look }) => look)
      : stoppingReferences.map((reference) => ({ ...this.first, smooth: 1, reference }));
    await tries.tryAll(looks.flatMap(stoppedAlike));
    tries.takeClock();
  }

  /** The best references at every size and smoothing. */
  async sizes(): Promise<void> {
    const carried = carriedOn(this.tries.ranked(), CARRIED);
    const [best] = carried;
    if (!best) return;
    // Levels far below what was found are noise, and cost most of the time.
    // It never falls again, for what was measured from it upwards is not measured anew.
    this.tries.floor = Math.max(this.tries.floor, Math.floor(best.best.values.level / 4));
    for (const size of this.sizesTried) {
      const looks = carried.flatMap((one) =>
        SMOOTHS.slice(0, 3).map((smooth) => like(one, { ...one.look, ...size, smooth })),
      );
      await this.tries.tryAll(looks);
    }
    const [now] = this.tries.ranked();
    if (now && now.look.smooth === 2) await this.tries.tryAll([like(now, { ...now.look, smooth: 3 })]);
  }

  /** What lies around the best: references, smoothing, what happens while busy. */
  async between(): Promise<void> {
    for (const round of [0, 1] as const) {
      this.tries.takeClock();
      const best = carriedOn(this.tries.ranked(), round === 0 ? 2 : 1);
      await this.tries.tryAll(best.flatMap((one) => this.around(one, round)));
    }
    const looks = carriedOn(this.tries.ranked(), 1).flatMap(({ look }) => [
      { look: { ...look, whileBusy: 'continues' as const }, near: null },
      ...stoppedAlike(look),
    ]);
    await this.tries.tryAll(looks);
    this.tries.takeClock();
  }

  /**
   * What was found so far at every size, and the best of each upwards from there: which size and smoothing explain most shows
   * only with a reference that is right, for coarse pixels forgive a wrong one.
   */
  async everySize(): Promise<void> {
    const [best] = this.tries.ranked();
    // Of a camera that something keeps firing no more can be told than that.
    if (!best || (this.tries.isFiringOn && best.best.own >= NEARLY_ALL)) return;
    for (const size of this.sizesTried) {
      await this.tries.tryAll(SMOOTHS.map((smooth) => like(best, { ...best.look, ...size, smooth })));
      const there = this.tries
        .ranked()
        .filter(
          ({ look, best: { own } }) =>
            look.width === size.width && look.height === size.height && own >= this.most - CLIMBED_WITHIN,
        );
      const smooths = [...new Set(there.map(({ look }) => look.smooth))];
      for (const smooth of smooths.slice(0, this.isCheap(size) ? 2 : 1)) await this.climb(size, smooth);
    }
    this.tries.takeClock();
  }

  /** References around the best of one size and smoothing, nearer and nearer. */
  private async climb(size: Size, smooth: number): Promise<void> {
    for (const round of [0, 1, 2] as const) {
      const there = this.tries
        .ranked()
        .find(
          ({ look }) => look.width === size.width && look.height === size.height && look.smooth === smooth,
        );
      if (!there) return;
      const references = referencesAround(there.look.reference, round);
      await this.tries.tryAll(references.map((reference) => like(there, { ...there.look, reference })));
    }
  }

  private isCheap({ width, height }: Size): boolean {
    return width * height * this.looking.times.length <= CHEAP;
  }

  /** References near its own, at its own smoothing and, where that costs little, at the next ones too. */
  private around(one: Tried, round: 0 | 1): Candidate[] {
    const { look } = one;
    const isCheap = this.isCheap(look);
    const references = [look.reference, ...referencesAround(look.reference, round)];
    const smooths = SMOOTHS.filter((smooth) => Math.abs(smooth - look.smooth) <= (round === 0 ? 1 : 0));
    return references.flatMap((reference, i) =>
      smooths
        .filter((smooth) => isCheap || i === 0 || smooth === look.smooth)
        .map((smooth) => like(one, { ...look, reference, smooth })),
    );
  }
}

function like(near: Tried, look: Look): Candidate {
  return { look, near };
}

/** The same look, its reference stopped while busy. */
function stoppedAlike(look: Omit<Look, 'whileBusy'>): Candidate[] {
  return STOPPING.map((whileBusy) => ({ look: { ...look, whileBusy }, near: null }));
}

/** Of closeness: what lies farther below the best is not climbed from. */
const CLIMBED_WITHIN = 0.15;
/** Pixels of all frames, below which one more description takes no more than a second or so. */
const CHEAP = 6e7;
/** Seconds an hour that a clock may drift, in the search for its offset. */
const DRIFT_PER_HOUR = 1.5;
