import { describe, expect, test } from 'vitest';
import { type Camera, cameraSchema } from '../../../src/camera/description.js';
import type { Look } from '../../../src/diagnose/triggers/look.js';
import { type FrameSource, readAround, type Watched } from '../../../src/diagnose/triggers/reading.js';
import { Differencer } from '../../../src/engine/pipeline.js';
import { largestRegion } from '../../../src/engine/region.js';
import { replayFrames, texture } from '../watched.js';

const [width, height] = [24, 18];
const rate = 5;
const count = 400;
/** Every frame another: what is compared with what cannot be mistaken. */
const frames = Array.from({ length: count }, (_, k) => texture(width, height, k + 1));
const times = Float64Array.from({ length: count }, (_, k) => k / rate);

function camera(reference: Record<string, unknown>): Camera {
  return cameraSchema.parse({
    version: 1,
    name: 'a test',
    analysis: { width, height, rate, smooth: 1 },
    reference,
    shutterLag: 0.5,
    burst: { photos: 1, interval: 1 },
    controls: {},
  });
}

/** Hands out frames in one array, as a decoder does, and notes which. */
function source(read: number[]): FrameSource {
  const held = new Uint8Array(width * height);
  return function* (indices) {
    for (const k of indices) {
      read.push(k);
      held.set(frames[k]!);
      yield held;
    }
  };
}

function watched(
  reference: Record<string, unknown>,
  fired: number[],
  mask: Uint8Array | null = null,
): Watched {
  return {
    camera: camera(reference),
    settings: { threshold: 20, minimumArea: 1, mostChanged: 432, persistence: 1, cooldown: 2, warnings: [] },
    ...{ mask, level: 20, times, fired, indices: Uint32Array.from(times.keys()) },
  };
}

/** Differences of every frame, one after the other, by the engine. */
function differences(reference: Parameters<typeof camera>[0], mask: Uint8Array | null): Uint8Array[] {
  const { analysis, reference: model } = camera(reference);
  const differencer = new Differencer({ ...analysis, reference: model, mask });
  return frames.map((y, k) => differencer.next(y, times[k]!).slice());
}

const mask = Uint8Array.from({ length: width * height }, (_, i) => (i % width < 5 ? 1 : 0));

describe('one reading for a diagnosis', () => {
  test.each([
    ['the frame before', { kind: 'previous', lag: 1 }],
    ['the third frame before', { kind: 'previous', lag: 3 }],
    ['an average', { kind: 'average', seconds: 1.5 }],
  ])('differences are those of the engine where only some frames are read: %s', async (_, reference) => {
    const expected = differences(reference, mask);
    const fired = [30, 200, 330];
    const wanted = [5, 6, 90, 91, 92, 395];
    const seen = new Map<number, Uint8Array>();
    const regions: number[] = [];
    const looks: Look[] = [];
    await readAround(
      watched(reference, fired, mask),
      { looked: [0, 2], wanted },
      {
        onFrame: (place, difference) => void seen.set(place, difference.slice()),
        onTrigger: (_trigger, region) => void regions.push(region.pixels),
        onLook: (_trigger, look) => void looks.push(look),
      },
      source([]),
    );
    expect([...seen.keys()]).toEqual(wanted);
    for (const [place, difference] of seen) expect(difference).toEqual(expected[place]);
    expect(regions).toEqual(fired.map((k) => largestRegion(expected[k]!, width, height, 20).pixels));
    expect(looks.map(({ difference }) => difference)).toEqual([expected[30], expected[330]]);
  });

  test('a look holds the frames around its trigger, twelve seconds either way', async () => {
    const looks: Look[] = [];
    await readAround(
      watched({ kind: 'previous', lag: 1 }, [200]),
      { looked: [0], wanted: [] },
      { onTrigger: () => undefined, onLook: (_, look) => void looks.push(look) },
      source([]),
    );
    const [look] = looks as [Look];
    expect(look.frames[look.at]?.time).toBe(40);
    expect([look.frames[0]?.time, look.frames.at(-1)?.time]).toEqual([28, 52]);
    // What it was compared with is the frame before, smoothed as the camera does.
    expect(look.reference).toEqual(look.frames[look.at - 1]?.y);
  });

  test('looks that overlap read their frames once, and nothing else is read', async () => {
    const read: number[] = [];
    await readAround(
      watched({ kind: 'previous', lag: 1 }, [100, 110]),
      { looked: [0, 1], wanted: [] },
      { onTrigger: () => undefined, onLook: () => undefined },
      source(read),
    );
    expect(read).toEqual(Array.from({ length: 170 - 39 + 1 }, (_, i) => 39 + i));
  });

  test.each(['frozen', 'restarts'])(
    'a reference that is %s while busy is followed from trigger to trigger',
    async (whileBusy) => {
      const reference = { kind: 'previous', lag: 1, whileBusy };
      const { fired, areas } = replayFrames(camera(reference), frames, times, {
        ...{ threshold: 60, minimumArea: 12, mostChanged: 432, persistence: 2, cooldown: 2 },
      });
      expect(fired.length).toBeGreaterThan(5);
      const found: number[] = [];
      await readAround(
        { ...watched(reference, fired), level: 60 },
        { looked: [], wanted: [] },
        { onTrigger: (_, region) => void found.push(region.pixels), onLook: () => undefined },
        source([]),
      );
      expect(found).toEqual(areas);
    },
  );
});
