import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import seedrandom from 'seedrandom';
import { afterEach, expect, it, vi } from 'vitest';
import { BoxMeter, type BoxRows } from '../../src/measure/boxes.js';
import { measure } from '../../src/measure/pass.js';
import { WeatherThreads } from '../../src/measure/threads.js';
import type { Frames, Track } from '../../src/measure/track.js';
import type { Cache } from '../../src/store/cache.js';
import type { Setup } from '../../src/weather/setup.js';
import { createWeather } from '../../src/weather/weather.js';
import { tempCache } from '../clip/fixtures.js';
import { makeSetup } from '../weather/made.js';

afterEach(() => void vi.restoreAllMocks());

/** No whole number of words, so that frames do not follow one another without a gap. */
const [width, height] = [45, 31];
/** Neither whole loads nor whole chunks of evidence. */
const FRAMES = 533;
const times = Float64Array.from({ length: FRAMES }, (_, k) => k / 5);
const random = seedrandom('threads');
const ground = Uint8Array.from({ length: width * height }, () => 60 + 120 * random());
const pictures = Array.from(times, () => ground.map((v) => v + 6 * random()));

function frames(breakAt = FRAMES): Frames {
  return {
    times,
    *from(first) {
      for (let k = first; k < FRAMES; k++) {
        if (k === breakAt) throw new Error('the disk was taken away');
        yield pictures[k]!;
      }
    },
  };
}

const foliage = new Uint8Array(width * height).fill(255, 0, (width * height) / 2);
const weathers: Partial<Setup>[] = [
  { to: { wind: 5 }, foliage },
  { to: { wind: 6 }, foliage, seed: 'other' },
  { to: { rain: 8 } },
  { to: { light: 20 } },
  { to: { wind: 6, rain: 4 }, foliage },
];
const mask = ground.map((_, i) => Number(i % width < 9));
const boxes: BoxRows = {
  frames: Uint32Array.of(2, 3, 3, 300),
  visits: Uint32Array.of(0, 0, 1, 1),
  boxes: [
    [0.1, 0.1, 0.5, 0.5],
    [0.4, 0.2, 0.6, 0.8],
  ],
  kind: 'region',
};
const differencer = { width, height, smooth: 1, reference: { kind: 'previous', lag: 1 }, mask } as const;

/** Tracks as weather's evidence makes them, and what they find within boxes. */
function tracksOf(): { tracks: Track[]; within: () => (Uint8Array | null)[] } {
  const apart: (Uint8Array | null)[] = weathers.map(() => null);
  const meters = weathers.map(() => new BoxMeter(boxes, width, height, 3, mask));
  const tracks = weathers.map((one, i): Track => {
    const setup = makeSetup(width, height, one);
    const keepBoxes = (bytes: Uint8Array | null) => {
      apart[i] = bytes;
    };
    return {
      key: `weather-${i}`,
      differencer,
      floor: 3,
      weather: () => createWeather(setup),
      watch: ({ frame, difference }) => meters[i]!.take(frame, difference),
      apart: { setup, differencer, floor: 3, boxes, keepBoxes },
    };
  });
  return { tracks, within: () => meters.map((meter, i) => apart[i] ?? meter.bytes) };
}

/** All that a cache holds of the tracks, byte for byte. */
function keptIn(cache: Cache): Record<string, string> {
  const root = cache.path('evidence');
  const names = readdirSync(root, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile());
  return Object.fromEntries(
    names.map(({ parentPath, name }) => [
      join(parentPath, name).slice(root.length),
      readFileSync(join(parentPath, name)).toString('base64'),
    ]),
  );
}

it('weather comes to the same bytes on one thread, on two and on four', async () => {
  const came = [];
  for (const threads of [1, 2, 4]) {
    const cache = await tempCache();
    const { tracks, within } = tracksOf();
    await measure(frames(), tracks, { cache, threads });
    came.push({
      kept: keptIn(cache),
      within: within().map((bytes) => Buffer.from(bytes!).toString('base64')),
    });
  }
  const [one, two, four] = came;
  expect(Object.keys(one!.kept)).toHaveLength(2 * weathers.length);
  expect(new Set(one!.within).size).toBe(weathers.length);
  expect(two).toEqual(one);
  expect(four).toEqual(one);
});

it('a reading that breaks off ends its threads, and another makes what an unbroken one makes', async () => {
  const ended = vi.spyOn(Worker.prototype, 'terminate');
  const cache = await tempCache();
  await expect(measure(frames(520), tracksOf().tracks, { cache, threads: 3 })).rejects.toThrow('taken away');
  expect(ended).toHaveBeenCalledTimes(3);
  await measure(frames(), tracksOf().tracks, { cache, threads: 3 });
  const unbroken = await tempCache();
  await measure(frames(), tracksOf().tracks, { cache: unbroken, threads: 1 });
  expect(keptIn(cache)).toEqual(keptIn(unbroken));
});

/** Loads of the clip, and what one thread is asked in all: each of them, and what it found within boxes. */
const ASKED = Math.ceil(FRAMES / 8) + 1;

it.each([
  // Of two threads that are asked in turn.
  ['in its fifth load', 9],
  ['when a chunk of evidence is kept already', 2 * 66],
  ['when it is asked for what it found within boxes', 2 * ASKED - 1],
])('what a thread does not finish, for it is ended %s, this one does, to the same bytes', async (_, when) => {
  const { postMessage } = Worker.prototype;
  let asked = 0;
  const post = vi.spyOn(Worker.prototype, 'postMessage').mockImplementation(function (this: Worker, message) {
    if (++asked === when) void this.terminate();
    else postMessage.call(this, message);
  });
  /** Evidence of the frames as they are is measured in the same reading; each is shown to whoever watches once. */
  const measured = async (threads: number) => {
    const cache = await tempCache();
    const { tracks, within } = tracksOf();
    const seen: number[] = [];
    const plain: Track = {
      key: 'plain',
      differencer,
      floor: 3,
      watch: ({ frame }) => void seen.push(frame),
    };
    await measure(frames(), [plain, ...tracks], { cache, threads });
    return { kept: keptIn(cache), within: within(), seen };
  };
  const ended = await measured(2);
  expect(asked).toBeGreaterThanOrEqual(when);
  post.mockRestore();
  expect(ended).toEqual(await measured(1));
  expect(ended.seen).toEqual([...times.keys()]);
});

it('where nothing else is measured, the reading in which a thread ended is broken off', async () => {
  const { postMessage } = Worker.prototype;
  vi.spyOn(Worker.prototype, 'postMessage').mockImplementation(function (this: Worker, message) {
    if (typeof message === 'object' && message.first === 8) void this.terminate();
    else postMessage.call(this, message);
  });
  const begun: number[] = [];
  let read = 0;
  const counted: Frames = {
    times,
    *from(first) {
      begun.push(first);
      for (const picture of pictures.slice(first)) {
        read++;
        yield picture;
      }
    },
  };
  const cache = await tempCache();
  await measure(counted, tracksOf().tracks, { cache, threads: 2 });
  expect(begun).toEqual([0, 0]);
  expect(read).toBeLessThan(2 * FRAMES);
});

it('what no thread can be started with is left to the one that asks', async () => {
  const setup = { ...makeSetup(width, height, {}), seed: (() => '') as unknown as string };
  const track = { setup, differencer, floor: 3, boxes: null };
  expect(await WeatherThreads.start([track, track], FRAMES, async () => undefined, 2)).toBeNull();
});
