import type { Look } from '../../../../src/diagnose/triggers/look.js';
import { largestRegion, type Region } from '../../../../src/engine/region.js';
import { createScene } from '../../../../src/scene/scene.js';
import { sceneSpec } from '../../../../src/scene/spec.js';

/** Frames of a drawn scene as luminance. */
export function drawnFrames(change: Record<string, unknown>, seconds = 20): Uint8Array[] {
  const spec = sceneSpec.parse({
    version: 1,
    title: 'for the measures',
    site: 'compost heap',
    seed: 'measures',
    seconds,
    rate: 5,
    start: '2026-06-11T10:20:00+01:00',
    place: { latitude: 51.5, longitude: -3 },
    conditions: { wind: 0, rain: 0, light: 9000 },
    scene: { subject: 2, foliage: 2.1, height: 0.7, mount: 'post', cover: false },
    ...change,
  });
  return Array.from(createScene(spec).drawLuminance(), (y) => y.slice());
}

/** A look at one of some frames, compared with the one before it. */
export function lookAt(
  frames: readonly Uint8Array[],
  at: number,
  width: number,
  { level = 10, rate = 5, region }: { level?: number; rate?: number; region?: Region } = {},
): Look {
  const y = frames[at]!;
  const reference = frames[at - 1]!;
  const height = y.length / width;
  const difference = Uint8Array.from(y, (v, i) => Math.abs(v - reference[i]!));
  return {
    ...{ width, height, level, at, lag: 1, reference, difference },
    frames: frames.map((f, k) => ({ time: k / rate, y: f })),
    region: region ?? largestRegion(difference, width, height, level),
  };
}

/** Grey levels without any order, the same for the same seed. */
export function texture(width: number, height: number, seed: number): Uint8Array {
  let state = seed;
  return Uint8Array.from({ length: width * height }, () => {
    state = (Math.imul(state, 1103515245) + 12345) >>> 0;
    return state >>> 24;
  });
}

/** A picture whose every pixel comes from x, y further left and up in another; what comes from outside repeats the edge. */
export function shiftedBy(y: Uint8Array, width: number, dx: number, dy: number): Uint8Array {
  const height = y.length / width;
  return Uint8Array.from(y, (_, i) => {
    const column = Math.min(width - 1, Math.max(0, (i % width) - dx));
    const row = Math.min(height - 1, Math.max(0, Math.floor(i / width) - dy));
    return y[row * width + column]!;
  });
}
