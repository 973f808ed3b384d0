import type { Camera } from '../../camera/description.js';
import type { Clip } from '../../clip/open.js';
import type { Size } from '../../weather/averaging.js';
import { defaultGeometry } from '../../weather/defaults.js';
import { FoliageFinder, foliageFrom } from '../../weather/foliage.js';
import type { Conditions, Geometry, Setup } from '../../weather/setup.js';
import { meterFor } from './noise.js';
import { sensorOf, statedSensor } from './noise-sensor.js';
import { recordedConditions } from './recorded.js';
import { sampledFrames } from './sample.js';

export interface SetupOptions {
  /** Of the frames that will be given; pixels. */
  width: number;
  height: number;
  seed: string;
  /** Against the assumed amplitude of sway; left out: 1. */
  sway?: number | undefined;
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
  const foliage = await foliageOf(clip, width, height, signal, at);
  const recorded = await recordedConditions(clip, to, { width, height, map: foliage.map, signal });
  const { noiseFrom } = options;
  const sensor =
    to.light === undefined
      ? { ...statedSensor(camera), noise: undefined }
      : await sensorOf({ clip, light: recorded.from.light, camera, at, noiseFrom, signal });
  return {
    setup: {
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
    },
    defaults: [
      ...place.defaults,
      ...(to.light === undefined && to.rain === undefined ? [] : sensor.defaults),
      ...foliage.defaults,
      ...recorded.defaults,
    ],
  };
}

/** How much each pixel is foliage, and whether that was found by default, for nobody outlined any. */
interface Foliage {
  map: Uint8Array;
  defaults: string[];
}

/** Maps by clip and size: tune asks for the same one for every strength it tries. */
const found = new WeakMap<Clip, Map<string, Foliage>>();

/**
 * Where a clip's foliage is: as labelled, else as found from a sample of its frames.
 * @param noiseAt the size at which the clip's noise will be asked for: it is measured in the same reading
 */
export async function foliageOf(
  clip: Clip,
  width: number,
  height: number,
  signal?: AbortSignal,
  noiseAt?: Size,
): Promise<Foliage> {
  if (clip.labels?.foliage) return { map: foliageFrom(clip.labels.foliage, width, height), defaults: [] };
  const size = `${width}x${height}`;
  const known = found.get(clip)?.get(size);
  if (known) return known;
  const finder = new FoliageFinder(width, height);
  const noise = noiseAt && meterFor(clip, { width, height }, noiseAt);
  for await (const { y, first } of sampledFrames(clip, { width, height }, clip.rate, signal)) {
    finder.see(y);
    noise?.see(y, first);
  }
  await noise?.measure(signal);
  const foliage = {
    map: finder.map(),
    defaults: [
      'labels.json: foliage, found from texture and motion in the clip; outlines in labels.json do better',
    ],
  };
  found.set(clip, (found.get(clip) ?? new Map<string, Foliage>()).set(size, foliage));
  return foliage;
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
