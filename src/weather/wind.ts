import { random } from '../base/random.js';
import { times } from './assumptions.js';
import { beaufortSpeed } from './beaufort.js';
import { Dapple, sunShare } from './dapple.js';
import { Flutter, flutterLevel } from './flutter.js';
import { Gusts } from './gusts.js';
import { lazily } from './lazily.js';
import { Oscillators } from './oscillator.js';
import { SHELTER, type SiteWind, siteWind } from './profile.js';
import type { Assumed, Effect, Setup } from './setup.js';
import { addShake, STEM } from './shake.js';
import { addSway, type Branches, branchesOf, STEADY, SWAY } from './sway.js';
import { Net, onNet } from './warp.js';

/** Seconds: the step of the swing, the wind before the first frame, and the longest pause that is stepped through. */
const STEP = 0.05;
const LEAD = 20;
const PAUSE = 30;

/** Beaufort number of a recording of which no wind is known. */
const CALM = 1;

/** Share of direct sun where the light is not known. */
const SUN = 0.35;

/** Wind over that of the recording, put onto its frames; null where none is wanted or it is no stronger. */
export function createWind(setup: Setup): { effect: Effect | null; assumed: Assumed[] } {
  const { from, to, geometry } = setup;
  if (to.wind === undefined || to.wind <= (from.wind ?? CALM)) return { effect: null, assumed: [] };
  const assumed = [
    `sway: the tip of a branch goes ${SWAY * setup.sway} of its length in a steady wind of ${STEADY} m/s`,
    `shelter: ${SHELTER} of the open wind reaches the site`,
    'branch sizes, leaf flutter and moving shade are those of garden shrubs',
  ];
  if (from.light === undefined && to.light === undefined) assumed.push(`${SUN} of the light is direct sun`);
  if (from.wind === undefined) assumed.push(`the recording is calm (Beaufort ${CALM})`);
  if (geometry.mount === 'tree') assumed.push('how far the tree turns the camera');
  const wanted = to.wind;
  return { effect: lazily(() => new Wind(setup, wanted, from.wind ?? CALM)), assumed };
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
  readonly #flutter: Flutter;
  readonly #dapple: Dapple;
  readonly #sun: number;
  /** The recording's wind over the one wanted, 0..1. */
  readonly #recorded: number;
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
    this.#site = siteWind(beaufortSpeed(wanted), geometry.height);
    this.#recorded = beaufortSpeed(recorded) / beaufortSpeed(wanted);
    this.#focal = width / 2 / Math.tan((geometry.hfov * Math.PI) / 360);
    const scale = this.#focal / geometry.foliage;
    this.#foliage = onNet(this.#net, setup.foliage);
    this.#branches = branchesOf(this.#net, this.#foliage, scale, dice('branches'));
    // The last place and swing are the camera's own.
    const { list } = this.#branches;
    this.#gusts = new Gusts(this.#site, STEP, [...list.map((b) => b.downwind), 0], dice('gusts'));
    this.#swings = new Oscillators([...list, STEM], STEP);
    this.#force = new Float64Array(list.length + 1);
    this.#before = new Float64Array(list.length + 1);
    this.#now = new Float64Array(list.length + 1);
    this.#flutter = new Flutter(this.#net, this.#foliage, scale, dice('flutter'));
    this.#dapple = new Dapple(this.#net, this.#foliage, scale, list.length, dice('dapple'));
    const light = Math.min(
      setup.from.light ?? Number.POSITIVE_INFINITY,
      setup.to.light ?? Number.POSITIVE_INFINITY,
    );
    this.#sun = Number.isFinite(light) ? sunShare(light) : SUN;
  }

  apply(picture: Float32Array, time: number): void {
    const net = this.#net;
    this.#swingTo(time);
    net.dx.fill(0);
    net.dy.fill(0);
    net.gain.fill(1);
    const { mean, intensity } = this.#site;
    const lean = (mean / STEADY) ** 2 * (1 + intensity * intensity);
    // Only the variance that the recording's own wind did not bring already; deflections grow with the wind's square.
    const excess = Math.sqrt(1 - this.#recorded ** 4);
    const sway = this.#setup.sway * times(this.#setup, 'sway');
    const moved = addSway(net, this.#branches, this.#now, lean, sway, excess);
    const speed = this.#gusts.speeds[this.#gusts.speeds.length - 1]!;
    const level = flutterLevel(speed);
    const recorded = flutterLevel(speed * this.#recorded);
    this.#flutter.add(Math.sqrt(level * level - recorded * recorded), time, picture);
    if (this.#sun > 0) this.#dapple.add(net, moved, this.#sun);
    this.#spare(time);
    if (this.#setup.geometry.mount === 'tree') {
      const stem = this.#now[this.#now.length - 1]! - lean;
      addShake(net, stem * sway * excess, this.#focal);
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
    for (let i = 0; i < after.length; i++) {
      this.#now[i] = this.#before[i]! + (after[i]! - this.#before[i]!) * past;
    }
  }

  /** Drag in units of that of a wind of `STEADY`. */
  #drag(): void {
    const { speeds } = this.#gusts;
    for (let i = 0; i < speeds.length; i++) this.#force[i] = (speeds[i]! / STEADY) ** 2;
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
