import { random } from '../base/random.js';
import { busyFor } from '../camera/timing.js';
import type { CauseName } from '../diagnose/diagnosis.js';
import { measure, vectorOf } from '../diagnose/triggers/measures/measures.js';
import { readAround } from '../diagnose/triggers/reading.js';
import { DirectReplay } from '../engine/direct.js';
import { memoryOf } from '../engine/reference.js';
import type { Region } from '../engine/region.js';
import { levelOf, TIME_TOLERANCE } from '../engine/triggers.js';
import { daylight } from '../scene/light.js';
import { createScene } from '../scene/scene.js';
import { blamed, type Drawn, gardenWithout } from './blame.js';
import type { GardenLesson, Lesson, TextureLesson } from './lessons.js';
import { textureScene } from './textures/scene.js';

/** One trigger of a drawn scene: what was measured around it, and what caused it. */
export interface Sample {
  cause: CauseName;
  vector: number[];
}

/** At most so many of one cause from one scene, so that no scene outweighs the others. */
const MOST_OF_A_CAUSE = 12;
/** Triggers that are looked at in one scene, spread over it: each costs two drawings without each of its causes. */
const MOST_LOOKED = 30;
/** From this sensor gain on, what nothing else explains is put down to noise. */
const NOISY = 3;

interface Scenery {
  frames: readonly Uint8Array[];
  rate: number;
  drawn: Drawn;
  /** When something new may be in view; null where the drawing itself says it exactly. */
  visits: readonly { start: number; end: number }[] | null;
}

/** Draws a lesson's scene, lets the camera watch it, and measures around every trigger whose cause is known. */
export async function samplesOf(lesson: Lesson): Promise<Sample[]> {
  return watched(lesson, lesson.kind === 'garden' ? garden(lesson) : textures(lesson));
}

function garden({ spec }: GardenLesson): Scenery {
  const scene = createScene(spec);
  const frames = Array.from(scene.drawLuminance(), (y) => y.slice());
  const light = daylight(spec, frames.length, random(spec.seeds?.weather ?? spec.seed, 'light'));
  const rest = (k: number) => (light.gain[k]! >= NOISY ? ('noise' as const) : null);
  return { frames, rate: spec.rate, drawn: gardenWithout(spec, rest), visits: scene.labels.visits };
}

function textures({ picture, seed }: TextureLesson): Scenery {
  const scene = textureScene(picture, seed);
  const frames = Array.from({ length: picture.frames }, (_, k) => scene.draw(k));
  const absences = scene.causes.map((cause) => ({ cause, draw: (k: number) => scene.draw(k, cause) }));
  return { frames, rate: picture.rate, drawn: { ...picture, absences, rest: () => null }, visits: null };
}

async function watched(
  { camera, settings }: Lesson,
  { frames, rate, drawn, visits }: Scenery,
): Promise<Sample[]> {
  const times = Float64Array.from(frames, (_, k) => k / rate);
  const { width, height, smooth } = camera.analysis;
  const { whileBusy, ...reference } = camera.reference;
  const busy = busyFor(camera, settings.cooldown);
  const { area } = camera;
  const replay = new DirectReplay({
    ...{ width, height, smooth, reference, whileBusy, area, mask: null, busy },
    ...settings,
  });
  const fired = frames.flatMap((y, k) => (replay.step(y, times[k]!) ? [k] : []));
  const level = levelOf(settings.threshold);
  const memory = memoryOf(reference);
  const back = Math.min(memory.frames, Math.ceil(memory.seconds * rate));
  const regions: Region[] = [];
  const samples: Sample[] = [];
  const counts = new Map<CauseName, number>();
  await readAround(
    {
      ...{ camera, mask: null, times, fired, level },
      settings: { ...settings, warnings: [] },
      indices: Uint32Array.from(times.keys()),
    },
    { looked: spread(fired.length, MOST_LOOKED), wanted: [] },
    {
      onTrigger: (i, region) => {
        regions[i] = region;
      },
      onLook: (i, look) => {
        const k = fired[i]!;
        const what = { frame: k, before: Math.max(0, k - back), region: regions[i] as Region };
        const cause = blamed(drawn, { ...what, radius: smooth, level });
        if (cause === null || !known(cause, k / rate, visits)) return;
        const n = counts.get(cause) ?? 0;
        counts.set(cause, n + 1);
        if (n < MOST_OF_A_CAUSE) samples.push({ cause, vector: vectorOf(measure(look)) });
      },
    },
    (indices) => Array.from(indices, (k) => frames[k]!),
  );
  return samples;
}

/** Up to `most` of so many places, evenly. */
function spread(count: number, most: number): number[] {
  const n = Math.min(count, most);
  return Array.from({ length: n }, (_, i) => Math.floor(((i + 0.5) * count) / n));
}

/** Something new is in view only while somebody's visit lasts, or has just begun or ended; other causes at any time. */
function known(cause: CauseName, time: number, visits: Scenery['visits']): boolean {
  if (cause !== 'unknown' || !visits) return true;
  return visits.some((v) => time >= v.start - 1 - TIME_TOLERANCE && time <= v.end + 1 + TIME_TOLERANCE);
}
