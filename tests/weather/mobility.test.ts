import { describe, expect, it } from 'vitest';
import { quickRandom } from '../../src/base/random.js';
import { Mobility } from '../../src/weather/mobility.js';

const [width, height] = [160, 40];
const none = new Float32Array(width * height);
const outline = new Uint8Array(width * height).fill(255);

/** Columns whose grey levels are thrown anew in every frame, by so much; the others stand still. */
function seen(muchAt: (x: number) => number): Mobility {
  const random = quickRandom('mobility', 'leaves');
  const mobility = new Mobility(width, height);
  for (let k = 0; k < 30; k++) {
    mobility.see(Uint8Array.from(outline, (_, i) => 128 + muchAt(i % width) * (2 * random() - 1)));
  }
  return mobility;
}

const at = (map: Uint8Array, x: number) => map[20 * width + x];

describe('where foliage moves', () => {
  it('holds still what stands still in an outline, and leaves what moves', () => {
    const weighed = seen((x) => (x < 80 ? 30 : 0)).weigh(outline, none);
    expect(at(weighed, 120)).toBe(0);
    expect(at(weighed, 40)).toBeGreaterThan(200);
  });

  it('goes with the root of squared changes, as small shifts do (Lucas & Kanade 1981)', () => {
    const weighed = seen((x) => (x < 80 ? 40 : 20)).weigh(outline, none);
    expect(at(weighed, 120)! / at(weighed, 40)!).toBeGreaterThan(0.4);
    expect(at(weighed, 120)! / at(weighed, 40)!).toBeLessThan(0.6);
  });

  it('takes the noise of the sensor off', () => {
    // Evenly thrown to either side by 20 the mean squared change is 2 x 20^2 / 3.
    const noise = Float32Array.from(none, (_, i) => (i % width < 80 ? 0 : (2 * 20 ** 2) / 3));
    const weighed = seen((x) => (x < 80 ? 60 : 20)).weigh(outline, noise);
    expect(at(weighed, 120)).toBeLessThan(50);
  });

  it('changes nothing where nothing was seen to move', () => {
    expect(seen(() => 0).weigh(outline, none)).toEqual(outline);
  });

  it('sees no movement between frames that do not follow one another', () => {
    const mobility = new Mobility(width, height);
    for (const grey of [0, 200, 50]) {
      mobility.restart();
      mobility.see(new Uint8Array(width * height).fill(grey));
    }
    expect(mobility.weigh(outline, none)).toEqual(outline);
  });
});
