import { describe, expect, it } from 'vitest';
import { quickRandom } from '../../src/base/random.js';
import { Knocks } from '../../src/weather/rain/knocks.js';
import { makeSetup } from './made.js';

const width = 160;
const height = 120;
const stripes = Float32Array.from({ length: width * height }, (_, i) => (((i % width) >> 2) % 2 ? 60 : 150));

/** Mean squared difference that struck leaves make in a frame, once they have been struck for some seconds. */
function unrest(rate: number): number {
  const seeds = ['a', 'b', 'c'];
  return seeds.reduce((sum, seed) => sum + unrestBy(seed, rate) / seeds.length, 0);
}

function unrestBy(seed: string, rate: number): number {
  const setup = makeSetup(width, height, {
    rate,
    to: { rain: 4 },
    foliage: new Uint8Array(width * height).fill(255),
  });
  const knocks = new Knocks(setup, quickRandom('knocks', seed));
  let [sum, n] = [0, 0];
  for (let k = 0; k < 3 * rate + Math.max(200, 40 * rate); k++) {
    const picture = Float32Array.from(stripes);
    knocks.draw(picture, 1 / rate, () => false);
    if (k < 3 * rate) continue;
    sum += picture.reduce((s, v, i) => s + (v - stripes[i]!) ** 2, 0) / picture.length;
    n++;
  }
  return sum / n;
}

describe('struck leaves', () => {
  // A leaf nods as much at any one moment, however often it is looked at: frames are moments.
  it.each([1, 5])('nod as much at %d frames a second as at 30', (rate) => {
    expect(Math.abs(unrest(rate) / unrest(30) - 1)).toBeLessThan(0.1);
  });
});
