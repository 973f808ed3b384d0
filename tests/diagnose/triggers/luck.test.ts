import { describe, expect, test } from 'vitest';
import { defaultCamera } from '../../../src/camera/default.js';
import type { Clip } from '../../../src/clip/open.js';
import type { Box } from '../../../src/diagnose/diagnosis.js';
import { LuckCounter } from '../../../src/diagnose/triggers/luck.js';
import type { Judged } from '../../../src/score/replayed.js';
import { luckText } from '../../../src/words/diagnosis-wording.js';

const { width, height } = defaultCamera.analysis;
const settings = {
  threshold: 20,
  minimumArea: 50,
  mostChanged: 76_800,
  persistence: 1,
  cooldown: 2,
  warnings: [],
};
/** Two visits; the first has two triggers, the second one. */
const judged = {
  triggers: [0, 0, 1].map((visit, i) => ({ time: 10 * i, photos: [10 * i], verdict: 'true', visit })),
  visits: [
    { start: 0, end: 15, name: 'wren', caught: true },
    { start: 18, end: 25, caught: true },
  ],
} as unknown as Judged;

/** The lower left quarter of the frame. */
const box: Box = [0, 0.5, 0.5, 0.5];

function counter(boxOf: (visit: number) => Box | null = () => box, area: 'region' | 'changed' = 'region') {
  const camera = { ...defaultCamera, area };
  return new LuckCounter({ clip: {} as Clip, judged, camera, settings, level: 20 }, boxOf);
}

/** A difference with squares of 10 by 10 pixels. */
function squares(...at: [number, number][]): Uint8Array {
  const out = new Uint8Array(width * height);
  for (const [x, y] of at)
    for (let row = y; row < y + 10; row++) out.fill(60, row * width + x, row * width + x + 10);
  return out;
}
const branch: [number, number] = [250, 20];
const animal: [number, number] = [40, 180];

describe('visits caught by luck', () => {
  test('are those for which only something outside their box fired', () => {
    const luck = counter();
    luck.add(0, squares(branch));
    luck.add(2, squares(branch, animal));
    expect(luck.byLuck).toEqual([0]);
  });

  test('are none for which one trigger of several was the animal', () => {
    const luck = counter();
    luck.add(0, squares(branch));
    luck.add(1, squares(animal));
    expect(luck.byLuck).toEqual([]);
  });

  test('are told by what hangs together within the box, or by all that changed there, as the camera counts', () => {
    // Two squares of 40 pixels each, apart: enough together, not alone.
    const apart = squares(animal, [80, 180]).map((d, i) =>
      i % width < 44 || (i % width >= 80 && i % width < 84) ? d : 0,
    );
    const [region, changed] = [counter(), counter(() => box, 'changed')];
    region.add(0, apart);
    changed.add(0, apart);
    expect(region.byLuck).toEqual([0]);
    expect(changed.byLuck).toEqual([]);
  });

  test('cannot be told without a box', () => {
    const luck = counter(() => null);
    luck.add(0, squares(branch));
    expect(luck.byLuck).toEqual([]);
  });

  test('are named, with what that means', () => {
    expect(luckText({ judged, byLuck: [0] })).toMatch(
      /^Of 2 caught visits 1 by luck: 0:00-0:15 wren\. When it fired, /,
    );
    expect(luckText({ judged, byLuck: [] })).toBeNull();
  });
});
