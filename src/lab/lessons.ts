import { between, pick, type Random, random } from '../base/random.js';
import { type Camera, cameraSchema } from '../camera/description.js';
import type { Settings } from '../camera/settings.js';
import { type SceneSpec, sceneSpec, siteNames, speciesNames } from '../scene/spec.js';
import { causeNames } from '../score/labels.js';
import type { TextureOptions } from './textures/scene.js';

/** What one scene teaches: mostly one cause, or several at once. */
export const subjects = [...causeNames, 'windy visit', 'mixed'] as const;
export type Subject = (typeof subjects)[number];

/** Scenes to learn from, to calibrate with, and to judge by; the last are drawn and watched in ways never learnt from. */
export type Use = 'learn' | 'calibrate' | 'judge';

/** How a scene is watched. */
interface Watching {
  camera: Camera;
  settings: Settings;
}
/** A scene of a garden. */
export interface GardenLesson extends Watching {
  kind: 'garden';
  spec: SceneSpec;
}
/** A moving picture of nothing in particular. */
export interface TextureLesson extends Watching {
  kind: 'textures';
  seed: string;
  picture: TextureOptions;
}
export type Lesson = GardenLesson | TextureLesson;

const SECONDS = 70;
const TEXTURE_SECONDS = 50;
/** Visits are few where other things are taught, many where something new is. */
const FEW = 20;

/** Whether a subject is a cause, or made of it: visits while the wind blows are taught apart, for branches hide in them. */
function isAbout(subject: Subject, cause: Subject): boolean {
  return subject === cause || (subject === 'windy visit' && (cause === 'wind' || cause === 'unknown'));
}

/** A garden, a camera and settings, all from the seed. */
export function gardenLesson(subject: Subject, seed: string, use: Use): GardenLesson {
  const r = random(seed, `${use} ${subject}`);
  const judged = use === 'judge';
  const rate = pick(r, judged ? [4, 7] : [2, 5, 10]);
  const width = pick(r, judged ? [288] : [320, 320, 256]);
  const has = (cause: Subject) => isAbout(subject, cause) || (subject === 'mixed' && r() < 0.45);
  const windy = has('wind');
  const rainy = has('rain');
  const dark = has('noise');
  const cloudy = !dark && has('light');
  // Bands of weather that are learnt from and judged by lie between one another.
  const wind = windy ? pick(r, judged ? [3.5, 4.5, 5.5, 6.5] : [2.5, 3, 4, 5, 6, 7]) : pick(r, [0, 0, 1]);
  const rain = rainy ? pick(r, judged ? [3, 7, 16] : [1.5, 4, 10, 25]) : 0;
  const lux = dark
    ? 2 ** between(r, -1.5, 2.5)
    : cloudy
      ? between(r, 20_000, 90_000)
      : 10 ** between(r, has('shadow') ? 4.2 : 2.6, 4.8);
  const somebody = isAbout(subject, 'unknown') && r() < 0.3;
  const spec: SceneSpec = sceneSpec.parse({
    version: 1,
    title: `${subject} ${seed}`,
    site: pick(r, siteNames),
    seed: `${use} ${subject} ${seed}`,
    seconds: SECONDS,
    rate,
    width,
    height: (width * 3) / 4,
    start: '2026-05-16T12:40:00+01:00',
    place: { latitude: 51.5, longitude: -3 },
    conditions: { wind, rain, light: lux },
    scene: {
      subject: between(r, 1.4, 2.4),
      foliage: between(r, 1.5, 2.8),
      height: between(r, 0.4, 1.2),
      mount: 'post',
      cover: r() < 0.2,
    },
    visits: visitsFor(r, subject),
    ...(has('insect') && { insects: 420 }),
    ...(has('shadow') && lux > 5000 && { shadows: 260 }),
    ...(has('shake') && { shakes: 220 }),
    ...(cloudy && { clouds: between(r, 90, 220) }),
    ...(somebody && { person: { start: 20, end: 15 } }),
  });
  const analysis = {
    width,
    height: (width * 3) / 4,
    rate,
    smooth: pick(r, smoothings(dark, judged)),
  };
  const camera = cameraSchema.parse({
    version: 1,
    name: 'lesson',
    analysis,
    reference:
      r() < 0.25
        ? { kind: 'average', seconds: judged ? 1.6 : pick(r, [1, 2.5]) }
        : { kind: 'previous', lag: pick(r, judged ? [1, 2] : [1, 1, 3]) },
    area: r() < 0.8 ? 'region' : 'changed',
    shutterLag: 0.5,
    burst: { photos: 1, interval: 1 },
    controls: {},
  });
  const settings: Settings = {
    threshold: Math.round(2 ** between(r, ...thresholds(subject, analysis.smooth))),
    minimumArea: Math.round((2 ** between(r, ...areas(subject)) * width * width) / 320 ** 2),
    mostChanged: width * analysis.height,
    persistence: pick(r, [1, 1, 1, 2]),
    cooldown: pick(r, [1, 2, 3]),
  };
  return { kind: 'garden', spec, camera, settings };
}

/** Box radii in pixels. Smoothing takes most of a sensor's noise away, so noise is taught mostly without it. */
function smoothings(dark: boolean, judged: boolean): number[] {
  if (dark) return [0, 0, 1];
  return judged ? [1, 2] : [0, 1, 1];
}

/** Powers of two between which thresholds lie. */
function thresholds(subject: Subject, smooth: number): [number, number] {
  if (subject !== 'noise') return [3, 5.4];
  return smooth === 0 ? [3, 4.4] : [1.6, 2.4];
}

function areas(subject: Subject): [number, number] {
  return subject === 'noise' ? [3.6, 5.6] : [4.3, 8.3];
}

/** As `gardenLesson`, but a moving picture of nothing in particular; camera and settings are chosen in the same way. */
export function textureLesson(subject: Subject, seed: string, use: Use): TextureLesson {
  const { camera, settings } = gardenLesson(subject, `textures ${seed}`, use);
  const r = random(seed, `${use} textures ${subject}`);
  const { width, height, rate } = camera.analysis;
  const causes = causeNames.filter((cause) => isAbout(subject, cause) || (subject === 'mixed' && r() < 0.4));
  const picture = { width, height, rate, frames: Math.round(TEXTURE_SECONDS * rate), causes };
  return { kind: 'textures', seed: `${use} ${subject} ${seed}`, picture, camera, settings };
}

function visitsFor(r: Random, subject: Subject) {
  const species = Object.fromEntries(speciesNames.map((name) => [name, between(r, 0.2, 2)]));
  return { perHour: isAbout(subject, 'unknown') ? 320 : subject === 'mixed' ? 4 * FEW : FEW, species };
}
