import type { Clip } from '../../clip/open.js';
import type { ColumnSource } from '../../sweep/columns.js';
import type { Clock } from '../fired/clock.js';
import type { Told } from '../fired/told.js';
import { isRounded, type Wanted, wantedBy } from '../fired/wanted.js';
import { agreementOf, type Tolerance } from '../score/agreement.js';
import { middleOfBest, scoreAll } from '../score/scores.js';
import { type Axes, coarseAxes, cooldownsFor, FLOOR, fewestAxes } from './axes.js';
import { offsetsFor } from './beginning.js';
import { bestStopped, CARRIED, carriedOn, NEARLY_ALL } from './carried.js';
import { hold, setRightBy } from './holding.js';
import {
  coarseReferences,
  firstSize,
  type Look,
  manyReferences,
  referencesAround,
  type Size,
  sizesFor,
} from './look.js';
import type { Looking, LookTried } from './looking.js';
import type { Reckoning } from './reckoning.js';
import { atFrames, followedByItself, longestMeant, stoppedLike } from './stopping.js';
import { type Course, nameOf, predictedBy, type Tried } from './tried.js';

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

/** A search at one rate of frames: what was tried by now, and what is tried next, step by step. */
export class Searching {
  private clock: Clock = { offset: 0, drift: 0 };
  private readonly cooldownsBy: (times: readonly number[]) => readonly number[];
  private readonly cooldowns: readonly number[];
  /** Of these, those under which references that depend on triggers are followed. */
  private readonly busyCooldowns: readonly number[];
  private readonly sizesTried: Size[];
  private readonly first: Size;
  private readonly known = new Map<string, Tried>();
  private floor = FLOOR;

  constructor(
    private readonly clip: Clip,
    private readonly told: Told,
    known: Known,
    private readonly tolerance: Tolerance,
    private readonly looking: Looking,
    private readonly reckoning: Reckoning,
  ) {
    const frame = 1 / looking.rate;
    this.cooldownsBy = (times) => {
      const all = cooldownsFor(times, told.quantum + frame, frame, known.cooldowns);
      const possible = all.filter((cooldown) => cooldown >= known.busy);
      return possible.length > 0 ? possible : [known.busy];
    };
    this.cooldowns = this.cooldownsBy(told.times);
    this.busyCooldowns = longestMeant(this.cooldowns, told.times, told.quantum, frame);
    this.sizesTried = sizesFor(clip, known.size);
    this.first = firstSize(this.sizesTried);
  }

  /** How near the best comes by now. */
  get most(): number {
    return this.ranked()[0]?.best.own ?? 0;
  }

  /** The same of what goes on while busy alone: what is followed by the told times knows something of them, and comes near with wrong values too. */
  get mostByItself(): number {
    return this.ranked().find(({ busy }) => busy === null)?.best.own ?? 0;
  }

  result(): Course {
    const { looking, reckoning, tolerance, cooldowns, cooldownsBy, floor } = this;
    return { looking, reckoning, tolerance, cooldowns, cooldownsBy, floor, tried: this.ranked() };
  }

  /** References at a small size; where on the clip the told times lie. */
  async begin(): Promise<void> {
    const looks = coarseReferences.map(
      (reference): Look => ({
        ...this.first,
        smooth: 1,
        reference,
        whileBusy: 'continues',
      }),
    );
    const tried = looks.map((look) => ({ look, busy: null }));
    const sources = await this.looking.at(tried, this.floor);
    const { times } = this.looking;
    const { seconds } = this.clip;
    const axes = this.coarse(this.first, this.cooldowns);
    const window = this.tolerance.most + (DRIFT_PER_HOUR / 2) * (seconds / 3600);
    const offsets = await offsetsFor(sources, times, this.told, seconds, axes, window);
    let most = -1;
    let clock = this.clock;
    for (const { offset } of offsets) {
      this.clock = { offset, drift: 0 };
      this.known.clear();
      for (const [i, one] of tried.entries()) await this.glance(one, sources[i]!, window);
      const [best] = this.ranked();
      if (!best || best.best.most <= most) continue;
      most = best.best.most;
      clock = await setRightBy(best, best.clock, this.looking.times, this.wanted(window, best.clock));
    }
    this.clock = clock;
    this.known.clear();
    for (const [i, one] of tried.entries()) await this.hold(one, sources[i]!);
    await this.tellFound();
    this.takeClock();
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
    await this.tryAll(looks.map((look) => ({ look, busy: null })));
    this.takeClock();
  }

  /** References that depend on triggers, followed by the told times. */
  async whileBusy(): Promise<void> {
    const ranked = this.ranked();
    const few = (ranked[0]?.best.most ?? 0) >= NEARLY_ALL ? ranked.slice(0, CARRIED) : ranked;
    const looks: LookTried[] = [];
    for (const { look } of few) looks.push(...(await this.stoppedAlike(look)));
    await this.tryAll(looks);
    await this.followThemselves();
    this.takeClock();
  }

  /** The best references at every size and smoothing. */
  async sizes(): Promise<void> {
    const carried = carriedOn(this.ranked(), CARRIED);
    const [best] = carried;
    if (!best) return;
    // Levels far below what was found are noise, and cost most of the time.
    // It never falls again, for what was measured from it upwards is not measured anew.
    this.floor = Math.max(this.floor, Math.floor(best.best.values.level / 4));
    for (const size of this.sizesTried) {
      const looks = carried.flatMap((one) =>
        SMOOTHS.slice(0, 3).map((smooth) => this.like(one, { ...one.look, ...size, smooth })),
      );
      await this.tryAll(looks);
    }
    const [now] = this.ranked();
    if (now && now.look.smooth === 2) await this.tryAll([this.like(now, { ...now.look, smooth: 3 })]);
  }

  /** What lies around the best: references, smoothing, what happens while busy. */
  async between(): Promise<void> {
    for (const round of [0, 1] as const) {
      this.takeClock();
      const best = carriedOn(this.ranked(), round === 0 ? 2 : 1);
      await this.tryAll(best.flatMap((one) => this.around(one, round)));
    }
    for (let round = 0; round < (this.isRounded ? 2 : 1); round++) {
      const looks: LookTried[] = [];
      for (const { look } of carriedOn(this.ranked(), 1)) {
        looks.push(
          { look: { ...look, whileBusy: 'continues' }, busy: null },
          ...(await this.stoppedAlike(look)),
        );
      }
      await this.tryAll(looks);
      await this.followThemselves();
      this.takeClock();
    }
  }

  /**
   * What was found so far at every size, and the best of each upwards from there: which size and smoothing explain most shows
   * only with a reference that is right, for coarse pixels forgive a wrong one.
   */
  async everySize(): Promise<void> {
    const [best] = this.ranked();
    if (!best) return;
    for (const size of this.sizesTried) {
      await this.tryAll(SMOOTHS.map((smooth) => this.like(best, { ...best.look, ...size, smooth })));
      const there = this.ranked().filter(
        ({ look, best: { own } }) =>
          look.width === size.width && look.height === size.height && own >= this.most - WITHIN_REACH,
      );
      const smooths = [...new Set(there.map(({ look }) => look.smooth))];
      for (const smooth of smooths.slice(0, this.isCheap(size) ? 2 : 1)) await this.climb(size, smooth);
    }
    this.takeClock();
  }

  /** References around the best of one size and smoothing, nearer and nearer. */
  private async climb(size: Size, smooth: number): Promise<void> {
    for (const round of [0, 1, 2] as const) {
      const there = this.ranked().find(
        ({ look }) => look.width === size.width && look.height === size.height && look.smooth === smooth,
      );
      if (!there) return;
      const references = referencesAround(there.look.reference, round);
      await this.tryAll(references.map((reference) => this.like(there, { ...there.look, reference })));
    }
  }

  private isCheap({ width, height }: Size): boolean {
    return width * height * this.looking.times.length <= CHEAP;
  }

  /** References near its own, at its own smoothing and, where that costs little, at the next ones too. */
  private around(one: Tried, round: 0 | 1): LookTried[] {
    const { look } = one;
    const isCheap = this.isCheap(look);
    const references = [look.reference, ...referencesAround(look.reference, round)];
    const smooths = SMOOTHS.filter((smooth) => Math.abs(smooth - look.smooth) <= (round === 0 ? 1 : 0));
    return references.flatMap((reference, i) =>
      smooths
        .filter((smooth) => isCheap || i === 0 || smooth === look.smooth)
        .map((smooth) => this.like(one, { ...look, reference, smooth })),
    );
  }

  private like({ busy }: Pick<LookTried, 'busy'>, look: Look): LookTried {
    return { look, busy };
  }

  /** The same look, its reference stopped while busy, for the longest cooldowns that may be meant. */
  private async stoppedAlike(look: Look): Promise<LookTried[]> {
    return stoppedLike(look, this.looking.times, await this.firedAtFrames(), this.busyCooldowns);
  }

  /** Whether times are rounded so that the frame which fired is not known. */
  private get isRounded(): boolean {
    return isRounded(this.told, this.looking.rate);
  }

  /** The fired times; where they are rounded, each at the time at which the best description so far fires near it. */
  private async firedAtFrames(): Promise<Float64Array> {
    const wanted = this.wanted();
    const [best] = this.ranked();
    if (!this.isRounded || !best) return wanted.fired;
    return atFrames(wanted, await predictedBy(best, best.best.values, this.looking.times));
  }

  /**
   * Where the frame that fired is not known: what stops while it is busy, followed by what it would fire itself, and references
   * far from its own, for the first was chosen while the frames were guessed.
   */
  private async followThemselves(): Promise<void> {
    for (let round = 0; this.isRounded && round < FOLLOWED; round++) {
      const looks: LookTried[] = [];
      for (const one of bestStopped(this.ranked(), MOST_FOLLOWED)) {
        const followed = await followedByItself(one, this.looking, this.wanted(undefined, one.clock));
        const { kind } = one.look.reference;
        const others = this.isCheap(one.look)
          ? coarseReferences.filter((reference) => reference.kind === kind)
          : [];
        looks.push(followed, ...others.map((reference) => this.like(followed, { ...one.look, reference })));
      }
      // The values of what goes on may be right where its times are not.
      const goesOn = this.ranked().find(({ look }) => look.whileBusy === 'continues');
      for (const whileBusy of goesOn ? (['frozen', 'restarts'] as const) : []) {
        const stopped = { ...goesOn!, look: { ...goesOn!.look, whileBusy } };
        looks.push(await followedByItself(stopped, this.looking, this.wanted(undefined, stopped.clock)));
      }
      await this.tryAll(looks);
    }
  }

  private async tryAll(all: readonly LookTried[]): Promise<void> {
    const fresh = new Map(all.map((one) => [nameOf(one), one]));
    for (const name of this.known.keys()) fresh.delete(name);
    const list = [...fresh.values()];
    this.reckoning.take(list.map(({ look }) => look));
    const sources = await this.looking.at(list, this.floor);
    for (const [i, one] of list.entries()) await this.hold(one, sources[i]!);
    await this.tellFound();
  }

  /** How near the best comes by now. */
  private async tellFound(): Promise<void> {
    const [best] = this.ranked();
    if (!best) return;
    const wanted = this.wanted(undefined, best.clock);
    const predicted = await predictedBy(best, best.best.values, this.looking.times);
    this.reckoning.found(agreementOf(wanted.fired, predicted, wanted.tolerance));
  }

  /** Holds one description against the told times under few values. */
  private async glance(one: LookTried, source: ColumnSource, window: number): Promise<void> {
    const { width, height } = one.look;
    const axes = fewestAxes(this.floor, width * height, this.cooldowns);
    const wanted = this.wanted(window);
    const scores = scoreAll(await source.bothColumns(axes.levels), this.looking.times, axes, wanted);
    const best = middleOfBest(scores, wanted.fired.length);
    if (best) this.known.set(nameOf(one), { ...one, source, best, clock: this.clock, worth: best.own });
  }

  /** Holds one description against the told times, coarsely and then around its best. */
  private async hold(one: LookTried, source: ColumnSource): Promise<void> {
    const { clock, floor, cooldowns, told, tolerance, looking } = this;
    const within = {
      told,
      clock,
      floor,
      cooldowns,
      tolerance,
      times: looking.times,
      rate: looking.rate,
      seconds: this.clip.seconds,
    };
    const held = await hold(one, source, within);
    this.reckoning.held();
    if (held) this.known.set(nameOf(one), held);
  }

  private coarse({ width, height }: Size, cooldowns: readonly number[]): Axes {
    return coarseAxes(this.floor, width * height, cooldowns);
  }

  private wanted(window = this.tolerance.most, clock = this.clock): Wanted {
    const tolerance = { ...this.tolerance, most: Math.max(window, this.tolerance.most) };
    return wantedBy(this.told, clock, tolerance, [0, this.clip.seconds]);
  }

  private ranked(): Tried[] {
    return [...this.known.values()].sort((a, b) => b.worth - a.worth);
  }

  /** What comes next is tried by the clock of the best so far. */
  private takeClock(): void {
    this.clock = this.ranked()[0]?.clock ?? this.clock;
  }
}

/** Of closeness: what lies farther below the best is not climbed from. */
const WITHIN_REACH = 0.15;
/** Pixels of all frames, below which one more description takes no more than a second or so. */
const CHEAP = 6e7;
/** Seconds an hour that a clock may drift, in the search for its offset. */
const DRIFT_PER_HOUR = 1.5;
/** How often, and how many descriptions, are followed by what they fire themselves. */
const FOLLOWED = 2;
const MOST_FOLLOWED = 3;
