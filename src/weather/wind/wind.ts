import { random } from '../../base/random.js';
import { assumptionOf, figureOf, times } from '../assumptions.js';
import { lazily } from '../lazily.js';
import type { Assumed, Effect, Setup } from '../setup.js';
import { beaufortSpeed } from './beaufort.js';
import { Dapple, sunShare } from './dapple.js';
import { type DragLaw, drag, dragGrowth, dragLaw, dragTable } from './drag.js';
import { Flutter, flutterLevel } from './flutter.js';
import { Gusts } from './gusts.js';
import { Oscillators } from './oscillator.js';
import { type SiteWind, siteWind } from './profile.js';
import { addShake, STEADY, STEM } from './shake.js';
import { addSway, type Branches, branchesOf } from './sway.js';
import { Net, onNet } from './warp.js';

/** Seconds: the step of the swing, the wind before the first frame, and the longest pause that is stepped through. */
const STEP = 0.05;
const LEAD = 20;
const PAUSE = 30;

/** Beaufort number of a recording of which no wind is known. */
const CALM = 1;

/** Share of direct sun where the light is not known. */
const SUN = 0.35;

const NOTHING_SWAYS =
  'no foliage is known here, so wind moves nothing and no sway is simulated; outline foliage in labels.json (the page of `perchmark open` draws outlines)';

/** Wind over that of the recording, put onto its frames; null where none is wanted or it is no stronger. */
export function createWind(setup: Setup): { effect: Effect | null; assumed: Assumed[] } {
  const { from, to, geometry } = setup;
  if (to.wind === undefined || to.wind <= (from.wind ?? CALM)) return { effect: null, assumed: [] };
  if (geometry.mount === 'post' && !setup.foliage.some((value) => value > 0)) {
    return { effect: null, assumed: [NOTHING_SWAYS] };
  }
  const assumed = [
    swayText(setup),
    `shelter: ${figureOf(setup, 'shelter')} of the open wind reaches the site`,
    'branch sizes, leaf flutter and moving shade are those of garden shrubs',
  ];
  if (from.light === undefined && to.light === undefined) assumed.push(`${SUN} of the light is direct sun`);
  if (from.wind === undefined) assumed.push(`the recording is calm (Beaufort ${CALM})`);
  if (geometry.mount === 'tree') assumed.push('how far the tree turns the camera');
  const wanted = to.wind;
  return { effect: lazily(() => new Wind(setup, wanted, from.wind ?? CALM)), assumed };
}

/** What sway rests on: two clips, the clip itself, or assumption. */
function swayText(setup: Setup): string {
  const { motion, to } = setup;
  if (motion) {
    const { how, upTo = Number.POSITIVE_INFINITY } = motion;
    if ((to.wind ?? 0) <= upTo) return how;
    return `${how}; more wind than that was not measured, but carried on by how drag grows`;
  }
  const figure = figureOf(setup, 'sway') * setup.sway;
  return `sway assumed, not measured: ${Number(figure.toPrecision(3))} ${assumptionOf('sway').unit}`;
}

class Wind implements Effect {
  readonly #setup: Setup;
  readonly #net: Net;
  readonly #site: SiteWind;
  readonly #foliage: Float32Array;
  readonly #branches: Branches;
  readonly #gusts: Gusts;
  readonly #swings: Oscillators;
  readonly #force: Float64Array;
  readonly #law: DragLaw;
  readonly #dragAt: (speed: number) => number;
  readonly #flutter: Flutter;
  readonly #dapple: Dapple;
  readonly #sun: number;
  /** The recording's wind over the one wanted, 0..1. */
  readonly #recorded: number;
  /** Share of the sway that the recording's own wind did not bring already. */
  readonly #excess: number;
  /** The mean pull of the wind on branches, m/s2. */
  readonly #lean: number;
  /** Branches and leaves against what is assumed. */
  readonly #reach: number;
  readonly #flutters: number;
  readonly #flutterGrowth: number;
  readonly #focal: number;
  /** Deflections one step ago, and at the frame. */
  readonly #before: Float64Array;
  readonly #now: Float64Array;
  #step = Number.NEGATIVE_INFINITY;

  constructor(setup: Setup, wanted: number, recorded: number) {
    const { width, height, geometry, seed } = setup;
    const dice = (purpose: string) => random(seed, `wind/${purpose}`);
    this.#setup = setup;
    this.#net = new Net(width, height);
    this.#site = siteWind(beaufortSpeed(wanted), geometry.height, figureOf(setup, 'shelter'));
    this.#recorded = beaufortSpeed(recorded) / beaufortSpeed(wanted);
    this.#law = dragLaw(setup);
    this.#dragAt = dragTable(this.#law);
    const { mean, intensity } = this.#site;
    const growth = dragGrowth(mean, this.#law);
    const pull = drag(mean, this.#law);
    // Gusts of one intensity move drag by growth x drag; variances add up.
    const before = mean * this.#recorded;
    const share = (dragGrowth(before, this.#law) * drag(before, this.#law)) / (growth * pull);
    this.#excess = Math.sqrt(1 - share * share);
    // To second order in the gusts.
    this.#lean = pull * (1 + (growth * (growth - 1) * intensity * intensity) / 2);
    const { branches = 1, leaves = 1, rhythm = 1, growth: grows = 1 } = setup.motion ?? {};
    this.#reach = setup.sway * branches;
    this.#flutters = leaves * times(setup, 'flutter');
    this.#flutterGrowth = grows;
    this.#focal = width / 2 / Math.tan((geometry.hfov * Math.PI) / 360);
    const scale = this.#focal / geometry.foliage;
    this.#foliage = onNet(this.#net, setup.foliage);
    this.#branches = branchesOf(this.#net, this.#foliage, scale, seed, rhythm);
    // The last place and swing are the camera's own.
    const { list } = this.#branches;
    this.#gusts = new Gusts(this.#site, STEP, [...list.map((b) => b.downwind), 0], dice('gusts'));
    this.#swings = new Oscillators([...list, STEM], STEP);
    this.#force = new Float64Array(list.length + 1);
    this.#before = new Float64Array(list.length + 1);
    this.#now = new Float64Array(list.length + 1);
    this.#flutter = new Flutter(this.#net, this.#foliage, scale, dice('flutter'), rhythm);
    this.#dapple = new Dapple(this.#net, this.#foliage, scale, list.length, dice('dapple'));
    const light = Math.min(
      setup.from.light ?? Number.POSITIVE_INFINITY,
      setup.to.light ?? Number.POSITIVE_INFINITY,
    );
    this.#sun = Number.isFinite(light) ? sunShare(light) : SUN;
  }

  apply(picture: Float32Array, time: number, recorded?: Uint8Array): void {
    if (recorded) picture.set(recorded);
    const net = this.#net;
    this.#swingTo(time);
    net.dx.fill(0);
    net.dy.fill(0);
    net.gain.fill(1);
    const moved = addSway(net, this.#branches, this.#now, this.#lean, this.#reach, this.#excess);
    const speed = this.#gusts.speeds[this.#gusts.speeds.length - 1]!;
    const level = flutterLevel(speed, this.#flutterGrowth);
    const already = flutterLevel(speed * this.#recorded, this.#flutterGrowth);
    this.#flutter.add(this.#flutters * Math.sqrt(level * level - already * already), time, picture);
    if (this.#sun > 0) this.#dapple.add(net, moved, this.#sun);
    this.#spare(time);
    if (this.#setup.geometry.mount === 'tree') {
      const stem = (this.#now[this.#now.length - 1]! - this.#lean) / drag(STEADY, this.#law);
      addShake(net, stem * this.#excess, this.#focal);
    }
    net.apply(picture);
  }

  /** Lets the branches swing on to a time; between two steps their place lies on a straight line. */
  #swingTo(time: number): void {
    const target = Math.floor(time / STEP);
    if (target - this.#step > PAUSE / STEP) {
      this.#step = target - LEAD / STEP;
      this.#gusts.seek(this.#step * STEP);
      this.#drag();
      this.#swings.start(this.#force);
    }
    while (this.#step <= target) {
      this.#before.set(this.#swings.displacement);
      this.#drag();
      this.#swings.advance(this.#force);
      this.#gusts.advance();
      this.#step++;
    }
    const past = time / STEP - target;
    const after = this.#swings.displacement;
    const [before, now] = [this.#before, this.#now];
    for (let i = 0; i < after.length; i++) now[i] = before[i]! + (after[i]! - before[i]!) * past;
  }

  /** What pulls at each branch at the current step, m/s2. */
  #drag(): void {
    const { speeds } = this.#gusts;
    const [force, dragAt] = [this.#force, this.#dragAt];
    for (let i = 0; i < speeds.length; i++) force[i] = dragAt(speeds[i]!);
  }

  /** Keeps the net off what stands before the foliage: it may come near, but never draw from inside a box. */
  #spare(time: number): void {
    const { inFront, width, height } = this.#setup;
    const { dx, dy, gain, columns, mesh } = this.#net;
    for (const { start, end, box } of inFront) {
      if (!box || time < start || time > end) continue;
      const [left, top] = [box[0] * width, box[1] * height];
      const [right, bottom] = [left + box[2] * width, top + box[3] * height];
      for (let i = 0; i < dx.length; i++) {
        if (dx[i] === 0 && dy[i] === 0 && gain[i] === 1) continue;
        const x = (i % columns) * mesh;
        const y = Math.floor(i / columns) * mesh;
        // One mesh further in: values between crossings reach that far.
        const away = Math.max(0, Math.max(left - x, x - right, top - y, y - bottom) - mesh);
        const keep = Math.min(1, (0.7 * away) / Math.max(1e-6, Math.sqrt(dx[i]! ** 2 + dy[i]! ** 2)));
        dx[i]! *= keep;
        dy[i]! *= keep;
        gain[i] = 1 + (gain[i]! - 1) * Math.min(1, away / (2 * mesh));
      }
    }
  }
}
