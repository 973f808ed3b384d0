import type { Canvas } from './canvas.js';
import type { Dice } from './dice.js';
import type { Plant } from './plants/plant.js';
import { groundRow, type View } from './view.js';

/** How a yard's rain looks and what it does; drawn anew for each yard. */
interface Manner {
  /** Middle diameter of the drops in the air, mm, and the spread of its logarithm. */
  middle: number;
  spread: number;
  /** Radians that a drop of 1 mg m/s turns a leaf of 10 square centimetres. */
  knock: number;
  /** Light that a drop shows, against that of white in the open. */
  glint: number;
  /** Drips a second from each plant, and from a roof edge, if there is one. */
  drips: number;
  /** Seconds that a splash is seen, metres that it is wide; and what of it is light. */
  splash: { lasts: number; wide: number; light: number };
  seen: [nearest: number, farthest: number];
}

function mannerOf(dice: Dice): Manner {
  return {
    middle: dice.within(0.9, 1.4),
    spread: dice.within(0.3, 0.45),
    knock: dice.ratio(0.02, 0.15),
    glint: dice.within(0.35, 0.9),
    drips: dice.ratio(0.15, 2.5),
    splash: { lasts: dice.ratio(0.03, 0.12), wide: dice.ratio(0.008, 0.03), light: dice.within(0.1, 0.4) },
    seen: [dice.within(0.15, 0.4), dice.within(2, 4)],
  };
}

/** Metres a second: Atlas & Ulbrich (1977), for drops of `mm`. */
const falls = (mm: number) => 3.778 * mm ** 0.67;
/** Milligrams of a drop of `mm`. */
const weighs = (mm: number) => (Math.PI / 6) * mm ** 3;
const GRAVITY = 9.81;

/** Rain in a yard: streaks in the air, leaves struck, drips from what is wet, splashes on the ground. */
export class Shower {
  readonly #manner: Manner;
  /** Drops in a cubic metre, and those that strike a square metre in a second. */
  readonly #dense: number;
  readonly #flux: number;
  readonly #sizes: Float32Array;
  #last: number | null = null;

  /** @param rain mm/h; @param exposure seconds; @param edge the row where the ground ends */
  constructor(
    private readonly view: View,
    rain: number,
    private readonly exposure: number,
    private readonly ground: { edge: number; hard: boolean },
    build: Dice,
    private readonly dice: Dice,
  ) {
    this.#manner = mannerOf(build);
    const { middle, spread } = this.#manner;
    // Sizes in the air; their mean flux of water must be the rain.
    this.#sizes = Float32Array.from({ length: 4096 }, () =>
      Math.min(5, middle * Math.exp(spread * dice.bell())),
    );
    const carried = this.#sizes.reduce((sum, mm) => sum + weighs(mm) * falls(mm), 0) / this.#sizes.length;
    this.#dense = (rain * 1e6) / 3600 / carried;
    this.#flux = this.#dense * (this.#sizes.reduce((sum, mm) => sum + falls(mm), 0) / this.#sizes.length);
  }

  /** Strikes leaves, as they were drawn last. */
  strike(plants: readonly Plant[], time: number): void {
    const passed = this.#last === null ? 0 : time - this.#last;
    this.#last = time;
    for (const { targets } of plants) {
      for (const { area, flap } of targets) {
        if (!this.dice.happens(Math.min(1, 0.7 * area * this.#flux * passed))) continue;
        const mm = this.#size();
        const turn = (this.#manner.knock * weighs(mm) * falls(mm) * 0.001) / Math.max(0.0003, area);
        flap.knock(time - passed * this.dice.roll(), Math.min(1.2, turn));
      }
    }
  }

  /** Draws what of it is in the air and on the ground. */
  draw(canvas: Canvas, plants: readonly Plant[]): void {
    this.#streaks(canvas);
    this.#splashes(canvas);
    this.#drips(canvas, plants);
  }

  #size(): number {
    return this.#sizes[Math.floor(this.#sizes.length * this.dice.roll())]!;
  }

  #streaks(canvas: Canvas): void {
    const { dice, view } = this;
    const [near, far] = this.#manner.seen;
    const volume = ((view.width * view.height) / view.focal ** 2) * ((far ** 3 - near ** 3) / 3);
    for (let n = dice.count(Math.min(4000, this.#dense * volume)); n > 0; n--) {
      const away = Math.cbrt(near ** 3 + dice.roll() * (far ** 3 - near ** 3));
      const mm = this.#size();
      if (mm < 0.7) continue;
      this.#fall(
        canvas,
        dice.within(0, view.width),
        dice.within(-20, view.height),
        away,
        mm,
        falls(mm),
        dice.within(-0.06, 0.06),
      );
    }
  }

  /** One falling drop: as it falls it covers each place for a part of the exposure only. */
  #fall(canvas: Canvas, x: number, y: number, away: number, mm: number, speed: number, slant: number): void {
    const scale = this.view.focal / away;
    const wide = 0.001 * mm * scale;
    const long = Math.max(wide, speed * this.exposure * scale);
    const share = Math.min(0.9, (wide / long) * 1.2 + 0.02);
    if (share * Math.min(1, wide) < 0.004) return;
    canvas.stroke(x, y, x + slant * long, y + long, wide, wide, this.#manner.glint, share);
  }

  #splashes(canvas: Canvas): void {
    const { dice, view, ground } = this;
    const { lasts, wide, light } = this.#manner.splash;
    if (!ground.hard && light < 0.2) return;
    const nearest = (view.focal * view.tall) / (view.height - view.horizon);
    const farthest = Math.min(3.5, (view.focal * view.tall) / Math.max(1, ground.edge - view.horizon));
    // Of the ground in view, a wedge.
    const area = (view.width / view.focal) * ((farthest ** 2 - nearest ** 2) / 2);
    const large = 0.15;
    const seen = (ground.hard ? 1 : 0.25) * large * this.#flux * Math.max(0, area) * (lasts + this.exposure);
    for (let n = dice.count(Math.min(1500, seen)); n > 0; n--) {
      const away = Math.sqrt(nearest ** 2 + dice.roll() * (farthest ** 2 - nearest ** 2));
      const scale = view.focal / away;
      const size = wide * scale * dice.within(0.5, 1.2);
      canvas.blob(
        dice.within(0, view.width),
        groundRow(view, away),
        size,
        size * 0.5,
        0,
        light + 0.2,
        0.5 * dice.roll(),
      );
    }
  }

  #drips(canvas: Canvas, plants: readonly Plant[]): void {
    const { dice, view } = this;
    for (const plant of plants) {
      const { targets } = plant;
      if (targets.length === 0) continue;
      const airborne = 0.25;
      for (let n = dice.count(this.#manner.drips * airborne); n > 0; n--) {
        const from = targets[Math.floor(targets.length * dice.roll())]!;
        const since = airborne * dice.roll();
        const fallen = 0.5 * GRAVITY * since ** 2 * (view.focal / plant.away);
        this.#fall(canvas, from.x, from.y + fallen, plant.away, dice.within(3, 5), GRAVITY * since + 0.3, 0);
      }
    }
  }
}
