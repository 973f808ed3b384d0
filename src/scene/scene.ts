import { random, seedOf } from '../base/random.js';
import type { Labels } from '../score/labels.js';
import { Watch } from './animals/visible.js';
import { planVisits } from './animals/visitors.js';
import { growGarden } from './garden.js';
import { insects } from './insects.js';
import { daylight } from './light.js';
import { people } from './people.js';
import { Picture } from './picture.js';
import { Rain } from './rain.js';
import { passingShadows } from './shade.js';
import { shakes } from './shakes.js';
import type { SceneSpec } from './spec.js';
import { labelScene } from './truth.js';
import { gusts, sway } from './wind.js';

/** A scene ready to be drawn, with the truth about it. */
export interface Scene {
  width: number;
  height: number;
  rate: number;
  frames: number;
  /** frames / rate */
  seconds: number;
  labels: Labels;
  /** clip.json but for `frames`, which the caller sets to where it stores them. */
  manifest: SceneManifest;
  /** Frames from..to-1 as interleaved RGB, width * height * 3 bytes; the same buffer every time. */
  draw(from?: number, to?: number): Generator<Uint8Array>;
  /** The same frames as BT.601 luminance, width * height bytes; the same buffer every time. */
  drawLuminance(from?: number, to?: number): Generator<Uint8Array>;
}

export type SceneManifest = Pick<
  SceneSpec,
  'version' | 'title' | 'site' | 'rate' | 'start' | 'place' | 'conditions' | 'scene'
>;

/** Lays out a scene: the garden, its weather and its visitors over the whole clip. Nothing is drawn yet. */
export function createScene(spec: SceneSpec): Scene {
  const { width, height, rate } = spec;
  const frames = Math.max(1, Math.round(spec.seconds * rate));
  const seconds = frames / rate;
  const weather = spec.seeds?.weather ?? spec.seed;
  const garden = growGarden(spec);
  const blowing = gusts(spec.conditions.wind, seconds, random(weather, 'gusts'));
  const light = daylight(spec, frames, random(weather, 'light'));
  const picture = new Picture({
    garden,
    rate,
    frames,
    gusts: blowing,
    sway: sway(garden.oscillators, blowing, frames, rate, random(weather, 'sway')),
    light,
    rain: new Rain(spec.conditions.rain, garden, spec.scene.cover, seedOf(weather, 'rain')),
    shadows: passingShadows(spec.shadows ?? 0, seconds, width, height, random(weather, 'shadows')),
    insects: insects(spec.insects ?? 0, seconds, rate, width, height, random(weather, 'insects')),
    shakes: shakes(spec.shakes ?? 0, seconds, width, random(weather, 'shakes')),
    people: people(spec.person, seconds, random(weather, 'people')),
    visitors: planVisits(spec, garden),
    weather,
    place: spec.seeds?.place ?? spec.seed,
  });
  const labels = labelScene(picture.parts, new Watch(garden, (k) => picture.moment(k), light.exposure, rate));
  function* draw(from: number, to: number, grey: boolean): Generator<Uint8Array> {
    for (let k = from; k < Math.min(to, frames); k++) yield picture.frame(k, grey);
  }
  return {
    width,
    height,
    rate,
    frames,
    seconds,
    labels,
    manifest: {
      version: 1,
      title: spec.title,
      site: spec.site,
      rate,
      start: spec.start,
      place: spec.place,
      conditions: { ...spec.conditions, light: middling(spec) },
      scene: spec.scene,
    },
    draw: (from = 0, to = frames) => draw(from, to, false),
    drawLuminance: (from = 0, to = frames) => draw(from, to, true),
  };
}

/** Lux in the middle of the clip, to three figures. */
function middling(spec: SceneSpec): number {
  return Number(Math.sqrt(spec.conditions.light * (spec.lightAtEnd ?? spec.conditions.light)).toPrecision(3));
}
