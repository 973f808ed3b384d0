import seedrandom from 'seedrandom';
import { describe, expect, it } from 'vitest';
import { daylight } from '../../src/scene/light.js';
import { conditions, spec } from './specs.js';

describe('light', () => {
  const dusk = spec({ seconds: 300, ...conditions(0, 0, 2000), lightAtEnd: 5 });
  const falling = daylight(dusk, 1500, seedrandom('dusk'));

  it('lengthens the exposure first, then raises the gain, then lets the picture darken', () => {
    const firstGain = falling.gain.findIndex((g) => g > 1);
    const mostGain = falling.gain.indexOf(Math.max(...falling.gain));
    expect(falling.exposure[0]!).toBeLessThan(1 / 60);
    expect(falling.exposure[firstGain]).toBeCloseTo(1 / 30, 6);
    expect(mostGain).toBeGreaterThan(firstGain);
    expect(falling.level[mostGain]! / falling.level.at(-1)!).toBeGreaterThan(3);
  });

  it('changes the exposure in steps and names each as light', () => {
    let steps = 0;
    for (let k = 1; k < 1500; k++)
      if (falling.gain[k]! * falling.exposure[k]! !== falling.gain[k - 1]! * falling.exposure[k - 1]!)
        steps++;
    expect(steps).toBeGreaterThan(5);
    expect(falling.changes.length).toBe(steps);
  });

  it('stays as it is without clouds', () => {
    const steady = daylight(spec(), 100, seedrandom('steady'));
    expect(Math.max(...steady.level) / Math.min(...steady.level)).toBeLessThan(1.1);
    expect(steady.changes).toEqual([]);
  });

  it('loses the sun to a passing cloud', () => {
    const cloudy = daylight(
      spec({ seconds: 120, clouds: 60, ...conditions(0, 0, 50_000) }),
      600,
      seedrandom('cloud'),
    );
    expect(Math.min(...cloudy.sun)).toBe(0);
    expect(Math.max(...cloudy.sun)).toBeGreaterThan(0.5);
  });
});
