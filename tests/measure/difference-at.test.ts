import { expect, it } from 'vitest';
import { readingsOf } from '../../src/measure/difference-at.js';

/** Every second stored frame is analysed. */
const indices = Uint32Array.from({ length: 10_000 }, (_, k) => 2 * k);
const places = [10, 11, 300, 301, 4000, 4001, 9000];
/** Of 1000 x 1000 pixels: 200 frames are decoded sooner than one is entered. */
const video = { width: 1000, height: 1000, keyFrames: Uint32Array.from({ length: 400 }, (_, i) => 50 * i) };

async function readings(of: typeof video, entering: (frame: number) => Promise<number>) {
  const list: number[][] = [];
  for await (const reading of readingsOf(of, places, indices, entering)) list.push(reading);
  return list;
}

it('frames far apart in a video are read each from the key frame before them, near ones in one go', async () => {
  const at = async (frame: number) => frame - (frame % 50);
  expect(await readings(video, at)).toEqual([[10, 11], [300, 301], [4000, 4001], [9000]]);
  const small = { ...video, width: 320, height: 240 };
  expect(await readings(small, at)).toEqual([[10, 11, 300, 301], [4000, 4001], [9000]]);
});

it('all are read in one go where the video cannot be entered, which is tried once, and where it has no key frame', async () => {
  const tried: number[] = [];
  const never = async (frame: number) => {
    tried.push(frame);
    return 0;
  };
  expect(await readings(video, never)).toEqual([places]);
  expect(tried).toEqual([600]);
  expect(await readings({ ...video, keyFrames: Uint32Array.of(0) }, never)).toEqual([places]);
});
