import { describe, expect, test } from 'vitest';
import { textureScene } from '../../src/lab/textures/scene.js';

const size = { width: 96, height: 72, rate: 5, frames: 60 };
function mostChanged(draw: (frame: number) => Uint8Array): number {
  let most = 0;
  let last = draw(0);
  for (let k = 1; k < size.frames; k++) {
    const now = draw(k);
    now.forEach((v, i) => {
      most = Math.max(most, Math.abs(v - last[i]!));
    });
    last = now;
  }
  return most;
}

describe('moving pictures of nothing in particular', () => {
  test.each(['wind', 'rain', 'light', 'insect', 'shake', 'shadow', 'unknown'] as const)(
    'with %s more changes than noise, and without it nothing does',
    (cause) => {
      const scene = textureScene({ ...size, causes: [cause] }, `only ${cause}`);
      const noise = mostChanged((k) => scene.draw(k, cause));
      // Two frames with the strongest noise of a picture without the cause 'noise', five deviations apart.
      expect(noise).toBeLessThan(5 * Math.SQRT2 * 1.8 + 1);
      expect(mostChanged((k) => scene.draw(k))).toBeGreaterThan(1.5 * noise);
    },
  );

  test('frames are the same in any order, and for the same seed', () => {
    const causes = ['wind', 'rain', 'unknown'] as const;
    const one = textureScene({ ...size, causes }, 'a seed');
    const other = textureScene({ ...size, causes }, 'a seed');
    const late = one.draw(40).slice();
    one.draw(3);
    expect(other.draw(40)).toEqual(late);
    expect(one.draw(40)).toEqual(late);
    expect(textureScene({ ...size, causes }, 'another').draw(40)).not.toEqual(late);
  });
});
