import { type Background, backgroundOf } from './background.js';
import { type Air, airOf, Breeze } from './breeze.js';
import { exposureOf, type Kit, kitOf, Sensor } from './camera.js';
import { Canvas } from './canvas.js';
import { Dice } from './dice.js';
import { type Flapping, flappingOf } from './flap.js';
import { plantKinds, plantNames } from './plants/kinds.js';
import type { Plant } from './plants/plant.js';
import { Shower } from './shower.js';
import { type View, viewOf } from './view.js';
import { drawVisit, type Visit, visitsOf, whereNow } from './visits.js';

/** One day in a yard: Beaufort number, mm/h, lux. */
export interface Day {
  wind: number;
  rain: number;
  light: number;
  /** Another day of the same weather, where it says something else. */
  again?: string;
}

export interface YardOptions {
  seconds?: number;
  rate?: number;
  width?: number;
  height?: number;
  /** Walls and paving, not a leaf. */
  bare?: boolean;
}

/** How a yard's camera writes its frames. */
export type Form = { kind: 'png' } | { kind: 'jpeg'; quality: number } | { kind: 'h264'; crf: number };

/** A yard, laid out: everything that is the same every day. */
export interface Yard {
  seed: string;
  view: View;
  kit: Kit;
  visits: Visit[];
  /** Whether its owner draws boxes around visits. */
  boxed: boolean;
  /** Outlines of the plants, as fractions of the frame. */
  foliage: [number, number][][];
  /** A calm day's wind, and the light of a day, lux. */
  calm: number;
  daylight: number;
  form: Form;
  seconds: number;
  rate: number;
  frames: number;
  plants: string[];
  /** Luminance of a day's frames, `width * height` bytes; the same array every time. */
  draw(day: Day): Generator<Uint8Array>;
}

/** Exposures longer than this are drawn as the mean of several moments; seconds. */
const BLURS = 0.025;
const MOMENTS = 3;

/** Lays out the yard of a seed; the same seed is the same yard, and draws the same frames. */
export function createYard(seed: string, options: YardOptions = {}): Yard {
  const { seconds = 100, rate = 5, width = 320, height = 240, bare = false } = options;
  const dice = new Dice(`yard ${seed}`);
  const view = viewOf(dice.of('view'), width, height);
  const kit = kitOf(dice.of('kit'));
  const air = airOf(dice.of('air'));
  const visits = visitsOf(view, seconds, dice.of('visits'));
  const background = backgroundOf(view, dice.of('background'), bare);
  const beds = bare ? [] : bedsOf(view, dice.of('beds'));
  const flapping = flappingOf(dice.of('flap'));
  const rings = { hertz: dice.of('rings').within(2.5, 8), lasts: dice.of('rings lasts').ratio(0.1, 0.5) };
  const laid = { seed, view, kit, air, background, beds, flapping, rings, visits, dice };
  const daylight = dice.of('daylight').ratio(1500, 25_000);
  const still = growAll(laid, new Breeze(air, 0, 1, dice.of('nowhere')), 'still');
  const frames = Math.round(seconds * rate);
  return {
    seed,
    view,
    kit,
    visits,
    boxed: dice.of('boxed').happens(0.5),
    foliage: still.map(({ outline }) => outline.map(([x, y]) => [share(x / width), share(y / height)])),
    calm: dice.of('calm').within(1, 2),
    daylight,
    form: formOf(dice.of('form')),
    seconds,
    rate,
    frames,
    plants: beds.map(({ kind }) => kind),
    draw: (day) => drawDay(laid, day, frames, rate),
  };
}

const share = (x: number) => Math.min(1, Math.max(0, x));

function formOf(dice: Dice): Form {
  const kind = dice.one(['png', 'jpeg', 'jpeg', 'h264'] as const);
  if (kind === 'jpeg') return { kind, quality: dice.whole(70, 95) };
  return kind === 'h264' ? { kind, crf: dice.whole(18, 28) } : { kind };
}

interface Bed {
  kind: (typeof plantNames)[number];
  x: number;
  away: number;
  flapping: Flapping | null;
}

interface Laid {
  seed: string;
  view: View;
  kit: Kit;
  air: Air;
  background: Background;
  beds: Bed[];
  flapping: Flapping;
  rings: { hertz: number; lasts: number };
  visits: Visit[];
  dice: Dice;
}

function bedsOf(view: View, dice: Dice): Bed[] {
  return Array.from({ length: dice.whole(2, 4) }, (_, i) => ({
    kind: dice.one(plantNames),
    x: dice.within(0, view.width),
    // The first stands where the owner says that foliage is; the others farther off.
    away: view.foliage * (i === 0 ? 1 : dice.within(1, 1.9)),
    flapping: dice.happens(0.5) ? flappingOf(dice) : null,
  }));
}

function growAll({ view, beds, flapping, rings, dice }: Laid, breeze: Breeze, day: string): Plant[] {
  return beds
    .map(({ kind, x, away, flapping: own }, i) =>
      plantKinds[kind]({
        view,
        away,
        x,
        breeze,
        flapping: own ?? flapping,
        rings,
        build: dice.of(`plant ${i}`),
        day: dice.of(`plant ${i} on ${day}`),
      }),
    )
    .sort((a, b) => b.away - a.away);
}

function* drawDay(laid: Laid, day: Day, frames: number, rate: number): Generator<Uint8Array> {
  const { view, kit, background, visits: all, dice } = laid;
  const name = `wind ${day.wind}, rain ${day.rain}, light ${day.light}, ${day.again ?? 'first'}`;
  const today = dice.of(name);
  const breeze = new Breeze(laid.air, day.wind, frames / rate, today.of('breeze'));
  const plants = growAll(laid, breeze, name);
  const { seconds: exposure } = exposureOf(kit, day.light);
  const sensor = new Sensor(kit, view.width, view.height, day.light, dice.of('sensor'), today.of('noise'));
  const shower =
    day.rain > 0
      ? new Shower(view, day.rain, exposure, background, dice.of('shower'), today.of('shower'))
      : null;
  const canvas = new Canvas(view.width, view.height);
  const moments = exposure > BLURS ? MOMENTS : 1;
  const mean = new Float32Array(canvas.light.length);
  for (let k = 0; k < frames; k++) {
    const time = k / rate;
    mean.fill(0);
    for (let m = 0; m < moments; m++) {
      // The last of them is when the shutter closes.
      drawMoment(canvas, plants, time - (exposure * (moments - 1 - m)) / moments);
      for (let i = 0; i < mean.length; i++) mean[i]! += canvas.light[i]! / moments;
    }
    if (shower) {
      shower.strike(plants, time);
      canvas.light.set(mean);
      shower.draw(canvas, plants);
      mean.set(canvas.light);
    }
    yield sensor.take(mean, time);
  }

  function drawMoment(on: Canvas, growing: Plant[], now: number): void {
    on.light.set(background.canvas.light);
    const there = all.flatMap((visit) => {
      const at = whereNow(visit, now);
      return at ? [{ visit, away: at.away }] : [];
    });
    let next = 0;
    const farthest = there.sort((a, b) => b.away - a.away);
    for (const plant of growing) {
      while (next < farthest.length && farthest[next]!.away > plant.away) {
        drawVisit(on, view, farthest[next++]!.visit, now);
      }
      plant.swing(now);
      plant.draw(on, now);
    }
    while (next < farthest.length) drawVisit(on, view, farthest[next++]!.visit, now);
  }
}
