import { describe, expect, test } from 'vitest';
import type { Region } from '../../src/engine/region.js';
import { blamed, type Drawn } from '../../src/lab/blame.js';

const [width, height] = [20, 10];
const still = new Uint8Array(width * height).fill(100);

/** The frame with a bright square of 5 by 5 at x. */
function square(x: number): Uint8Array {
  const out = still.slice();
  for (let y = 2; y < 7; y++) out.fill(200, y * width + x, y * width + x + 5);
  return out;
}

function regionAt(x: number, wide: number): Region {
  const mask = new Uint8Array(width * height);
  for (let y = 2; y < 7; y++) mask.fill(1, y * width + x, y * width + x + wide);
  return { mask, width, height, pixels: 5 * wide };
}

const asked = { frame: 1, before: 0, radius: 0, level: 20 };
const drawing = (absences: Drawn['absences'], rest: ReturnType<Drawn['rest']> = null): Drawn => ({
  ...{ width, height, absences },
  rest: () => rest,
});
/** Frame 0 is still; what frame 1 shows without a cause. */
const without = (cause: 'wind' | 'insect', frame: Uint8Array) => ({
  cause,
  draw: (k: number) => (k === 0 ? still : frame),
});

describe('what made a region fire', () => {
  test('is the cause without which it would not have changed', () => {
    const drawn = drawing([without('wind', square(2)), without('insect', still)]);
    expect(blamed(drawn, { ...asked, region: regionAt(2, 5) })).toBe('insect');
  });

  test('is nothing alone where each cause did half of it', () => {
    // The region spans both squares; taking either away leaves the other.
    const drawn = drawing([without('wind', square(2)), without('insect', square(7))]);
    expect(blamed(drawn, { ...asked, region: regionAt(2, 10) })).toBeNull();
  });

  test('is what is known to be left where no cause did any of it', () => {
    const drawn = drawing([without('wind', square(2))], 'noise');
    expect(blamed(drawn, { ...asked, region: regionAt(2, 5) })).toBe('noise');
  });
});
