import { significant } from '../../base/figures.js';
import type { Camera } from '../../camera/description.js';
import type { Clip } from '../../clip/open.js';
import { luminance } from '../../engine/luminance.js';
import { Cache } from '../../store/cache.js';
import type { Size } from '../../weather/averaging.js';
import { defaultGeometry } from '../../weather/defaults.js';
import type { Conditions, Geometry, Setup, SiteMotion } from '../../weather/setup.js';
import { foliageOf, foundIn } from './foliage.js';
import { keptFit } from './kept-fit.js';
import { sensorOf, statedSensor } from './noise-sensor.js';
import { recordedConditions } from './recorded.js';
import { sampleOf } from './sample.js';
import { againstItself, motionText, toldIn } from './sway.js';

export interface SetupOptions {
  /** Of the frames that will be given; pixels. */
  width: number;
  height: number;
  seed: string;
  /** Where what is fitted to a clip is kept; left out: nowhere. */
  cache?: Cache | undefined;
  /** Sway against what is measured, or assumed where it is not; left out: 1. */
  sway?: number | undefined;
  /** As measured elsewhere; null: as assumed; left out: measured on the clip itself where it tells. */
  motion?: SiteMotion | null | undefined;
  /** Where foliage is, of any size; left out: as labelled or found. */
  foliage?: { map: Uint8Array; width: number; height: number } | undefined;
  /** The size at which the camera compares frames, where noise must be right; left out: that of the frames. */
  analysis?: Size | undefined;
  /** Another clip of the same camera, to measure its noise on. */
  noiseFrom?: Clip | undefined;
  signal?: AbortSignal | undefined;
}

/** What simulation is made from, and which of it nobody said: one line for each default. */
export interface Prepared {
  setup: Setup;
  defaults: string[];
}

/**
 * Gathers what weather is made from: geometry from clip.json, lens, exposure and sensor from camera.json, named defaults
 * for what neither says, and where foliage is, from the labels or else from a sample of the clip.
 * @throws Problem 'usage' where the wish is calmer, drier or brighter than the recording
 */
export async function setupFor(
  clip: Clip,
  camera: Pick<Camera, 'lens' | 'exposure' | 'sensor'>,
  to: Conditions,
  options: SetupOptions,
): Promise<Prepared> {
  const { width, height, seed, sway = 1, signal } = options;
  const place = geometryOf(clip, camera);
  const at = options.analysis ?? { width, height };
  const { foliage: given, noiseFrom } = options;
  const foliage = given
    ? { map: luminance(given.map, 1, given.width, given.height, width, height), defaults: [] }
    : await foliageOf(clip, width, height, signal, at);
  // What is weighed by how far it goes is not what the scale of a clip's own wind was made by.
  const estimates = to.wind !== undefined && clip.manifest.conditions?.wind === undefined;
  const { map } = given && estimates ? await foliageOf(clip, width, height, signal, at) : foliage;
  const recorded = await recordedConditions(clip, to, { width, height, map, signal });
  const sensor =
    to.light === undefined
      ? { ...statedSensor(camera), noise: undefined }
      : await sensorOf({ clip, light: recorded.from.light, camera, at, noiseFrom, signal });
  const setup: Setup = {
    width,
    height,
    rate: clip.rate,
    length: clip.seconds,
    seed,
    geometry: place.geometry,
    optics: sensor.optics,
    ...(sensor.noise && { noise: sensor.noise }),
    from: recorded.from,
    to,
    foliage: foliage.map,
    inFront: (clip.labels?.visits ?? []).map(({ start, end, box }) => ({ start, end, box })),
    sway,
  };
  const motion =
    options.motion === undefined
      ? await ownMotion(clip, setup, options.cache ?? Cache.inMemory(), signal)
      : options.motion;
  return {
    setup: motion ? { ...setup, motion } : setup,
    defaults: [
      ...place.defaults,
      ...(to.light === undefined && to.rain === undefined ? [] : sensor.defaults),
      ...(to.wind === undefined && to.rain === undefined ? [] : foliage.defaults),
      ...recorded.defaults,
    ],
  };
}

/** Sway measured on clips themselves, by clip and what else it follows from: tune asks for it for every strength it tries. */
const own = new WeakMap<Clip, Map<string, SiteMotion | null>>();

/** How what sways in a clip moves there; null where nothing sways, or its wind is not known but from that very motion. */
async function ownMotion(
  clip: Clip,
  setup: Setup,
  cache: Cache,
  signal?: AbortSignal,
): Promise<SiteMotion | null> {
  const wind = clip.manifest.conditions?.wind;
  if (setup.to.wind === undefined || wind === undefined || wind === 0) return null;
  const { seed, geometry, from } = setup;
  const key = JSON.stringify([seed, geometry, from.light]);
  const known = own.get(clip)?.get(key);
  if (known !== undefined) return known;
  const sample = await sampleOf(clip, signal);
  const { width, height } = sample;
  const { map } = await foliageOf(clip, width, height, signal);
  const { noise } = await foundIn(clip, signal);
  let motion: SiteMotion | null = null;
  if (map.some((value) => value >= 128)) {
    const { motion: _, ...assumed } = setup;
    const still = { ...assumed, width, height, foliage: map, inFront: [], sway: 1 };
    const fit = await keptFit([againstItself({ sample, noise }, still)], sample.rate, cache);
    const how = motionText(`the clip itself (Beaufort ${significant(wind, 3)})`, fit);
    motion = { ...fit.factors, how, told: toldIn(fit), upTo: wind };
  }
  own.set(clip, (own.get(clip) ?? new Map<string, SiteMotion | null>()).set(key, motion));
  return motion;
}

function geometryOf(clip: Clip, camera: Pick<Camera, 'lens'>): { geometry: Geometry; defaults: string[] } {
  const { scene } = clip.manifest;
  const said = { hfov: camera.lens?.hfov, ...scene };
  const units: Record<keyof Geometry, [where: string, unit: string]> = {
    hfov: ['camera.json: lens.hfov', ' degrees'],
    subject: ['clip.json: scene.subject', ' m'],
    foliage: ['clip.json: scene.foliage', ' m'],
    height: ['clip.json: scene.height', ' m'],
    mount: ['clip.json: scene.mount', ''],
    cover: ['clip.json: scene.cover', ''],
  };
  const left = (Object.keys(units) as (keyof Geometry)[]).filter((key) => said[key] === undefined);
  return {
    geometry: {
      hfov: said.hfov ?? defaultGeometry.hfov,
      subject: said.subject ?? defaultGeometry.subject,
      foliage: said.foliage ?? defaultGeometry.foliage,
      height: said.height ?? defaultGeometry.height,
      mount: said.mount ?? defaultGeometry.mount,
      cover: said.cover ?? defaultGeometry.cover,
    },
    defaults: left.map((key) => `${units[key][0]} ${defaultGeometry[key]}${units[key][1]}`),
  };
}
