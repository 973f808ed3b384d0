import type { Clip } from '../../clip/open.js';
import type { ColumnSource } from '../../sweep/columns.js';
import { type Clock, onClip } from '../fired/clock.js';
import { offsetsOf, type Told } from '../fired/told.js';
import { isRounded, type Wanted, wantedBy } from '../fired/wanted.js';
import { afterPause } from '../record.js';
import { agreementOf, type Tolerance } from '../score/agreement.js';
import { middleOfBest, scoreAll } from '../score/scores.js';
import { cooldownsFor, FLOOR, fewestAxes } from './axes.js';
import { hold } from './holding.js';
import type { Look } from './look.js';
import type { Looking } from './looking.js';
import type { Reckoning } from './reckoning.js';
import { allAxes, type Following, followedAround, holdStopped, longestMeant } from './stopping.js';
import { nameOf, predictedBy, type Tried } from './tried.js';
import { triedText } from './trying.js';

/** A description to be tried. */
export interface Candidate {
  look: Look;
  /** One like it, around whose values its own are sought where that saves much; null: all are. */
  near: Tried | null;
}

/** What was tried of a clip at one rate of frames, and how near each comes to the told times. */
export class Tries {
  clock: Clock = { offset: 0, drift: 0 };
  floor = FLOOR;
  readonly cooldownsBy: (times: readonly number[]) => readonly number[];
  readonly cooldowns: readonly number[];
  /** Of these, those under which references that depend on triggers are followed. */
  readonly busyCooldowns: readonly number[];
  private readonly known = new Map<string, Tried>();
  /** Descriptions under which nothing comes near. */
  private readonly hopeless = new Set<string>();

  /** @param known what the owner says of its cooldown and of how long it is busy with photos */
  constructor(
    private readonly clip: Pick<Clip, 'seconds'>,
    private readonly told: Told,
    known: { cooldowns: readonly number[]; busy: number },
    readonly tolerance: Tolerance,
    readonly looking: Looking,
    readonly reckoning: Reckoning,
  ) {
    const frame = 1 / looking.rate;
    this.cooldownsBy = (times) => {
      const all = cooldownsFor(times, told.quantum + frame, frame, known.cooldowns);
      const possible = all.filter((cooldown) => cooldown >= known.busy);
      return possible.length > 0 ? possible : [known.busy];
    };
    this.cooldowns = this.cooldownsBy(told.times);
    this.busyCooldowns = longestMeant(this.cooldowns, told.times, told.quantum, frame);
  }

  /** All that was tried, the best first, each description once. */
  ranked(): Tried[] {
    return [...this.known.values()].sort((a, b) => b.worth - a.worth);
  }

  /** Whether times are rounded so that the frame which fired is not known. */
  get isRounded(): boolean {
    return isRounded(this.told, this.looking.rate);
  }

  /** Whether something keeps firing the camera: hardly ever does it fall silent. */
  get isFiringOn(): boolean {
    const { told, looking, busyCooldowns } = this;
    const slack = told.quantum + FRAMES_LATE / looking.rate;
    return afterPause(told.times, busyCooldowns.at(-1) ?? 0, slack) < PAUSING * told.times.length;
  }

  private anywhere(): Following['anywhere'] {
    const { told, clock, clip } = this;
    const { lowest, highest } = offsetsOf(told, clip.seconds);
    return {
      fired: onClip(told.times, clock),
      reach: { least: clock.offset - highest, most: clock.offset - lowest },
    };
  }

  wanted(window = this.tolerance.most, clock = this.clock): Wanted {
    const tolerance = { ...this.tolerance, most: Math.max(window, this.tolerance.most) };
    return wantedBy(this.told, clock, tolerance, [0, this.clip.seconds]);
  }

  /** What comes next is tried by the clock of the best so far. */
  takeClock(): void {
    this.clock = this.ranked()[0]?.clock ?? this.clock;
  }

  /** Forgets all that was tried, for the clock was wrong. */
  clear(): void {
    this.known.clear();
    this.hopeless.clear();
  }

  /** Tries those that were not tried before. */
  async tryAll(all: readonly Candidate[]): Promise<void> {
    const fresh = new Map(all.map((one) => [nameOf(one), one]));
    for (const name of [...this.known.keys(), ...this.hopeless]) fresh.delete(name);
    const list = [...fresh.values()];
    this.reckoning.take(list.map(({ look }) => look));
    const goOn = list.filter(({ look }) => look.whileBusy === 'continues');
    const sources = await this.looking.at(
      goOn.map(({ look }) => ({ look, busy: null })),
      this.floor,
    );
    for (const [i, { look }] of goOn.entries()) await this.hold(look, sources[i]!);
    for (const one of list) if (one.look.whileBusy !== 'continues') await this.follow(one);
    await this.tellFound();
  }

  /** Holds one description against the told times under few values. */
  async glance(look: Look, source: ColumnSource, window: number): Promise<void> {
    const axes = fewestAxes(this.floor, look.width * look.height, this.cooldowns);
    const wanted = this.wanted(window);
    const scores = scoreAll(await source.bothColumns(axes.levels), this.looking.times, axes, wanted);
    const best = middleOfBest(scores, wanted.fired.length);
    const { clock } = this;
    if (best) this.known.set(nameOf({ look }), { look, busy: null, source, best, clock, worth: best.own });
  }

  /** Holds one description against the told times, coarsely and then around its best. */
  async hold(look: Look, source: ColumnSource): Promise<void> {
    const { clock, floor, cooldowns, told, tolerance, looking, clip } = this;
    const { times, rate } = looking;
    const within = { told, clock, floor, cooldowns, tolerance, times, rate, seconds: clip.seconds };
    const held = await hold({ look, busy: null }, source, within);
    this.reckoning.held();
    if (held) this.known.set(nameOf(held), held);
  }

  /** Follows one whose reference stops by what it fires itself. */
  private async follow({ look, near }: Candidate): Promise<void> {
    const { floor, looking, reckoning, clock } = this;
    const pixels = look.width * look.height;
    const isLike = near !== null && near.look.whileBusy !== 'continues';
    const axes = isLike ? followedAround(scaledTo(pixels, near), floor, false) : allAxes(floor, pixels);
    const by = {
      cooldowns: isLike ? [near.best.values.cooldown] : this.busyCooldowns,
      clock,
      wantedAt: (at: Clock) => this.wanted(undefined, at),
      anywhere: isLike || !this.isFiringOn ? null : this.anywhere(),
    };
    reckoning.trying(`following ${triedText([look])}`);
    const held = await holdStopped(look, axes, by, looking, reckoning);
    reckoning.held();
    if (held) this.known.set(nameOf(held), held);
    else this.hopeless.add(nameOf({ look }));
  }

  /** How near the best comes by now. */
  async tellFound(): Promise<void> {
    const [best] = this.ranked();
    if (!best) return;
    const wanted = this.wanted(undefined, best.clock);
    const predicted = await predictedBy(best, best.best.values, this.looking.times);
    this.reckoning.found(agreementOf(wanted.fired, predicted, wanted.tolerance));
  }
}

/** Of the told times: so many after a pause show that the camera falls silent between two visits. */
const PAUSING = 0.3;
/** So many frames after its cooldown a camera still counts as firing without a pause. */
const FRAMES_LATE = 2;

/** The values of one at another size. */
function scaledTo(pixels: number, { look, best: { values } }: Tried) {
  const area = Math.max(1, Math.round((values.area * pixels) / (look.width * look.height)));
  return { ...values, area };
}
