import { describe, expect, it } from 'vitest';
import { fitted } from '../../src/weather/wind/fit.js';

/** Mean squares of how far something that swings has gone from frame to frame, and over two, three, four frames at five a second. */
function changes(hertz: number, reach: number): Float64Array {
  return Float64Array.from([1, 2, 3, 4], (lag) => 2 * (reach * Math.sin(Math.PI * hertz * 0.2 * lag)) ** 2);
}

const loose = { doubt: 3, most: 2 };

describe('what is fitted', () => {
  // 1 Hz and 1 px are assumed. Seen five times a second, quick motion looks like slow but for how it goes on.
  it.each([0.4, 1.7, 2.3])('finds something that swings at %f Hz, begun in several places', (hertz) => {
    const seen = changes(hertz, 1.5);
    const { values } = fitted(
      [loose, loose],
      ([logHertz, logReach]) => {
        const simulated = changes(Math.exp(logHertz!), Math.exp(logReach!));
        return simulated.map((value, i) => 10 * (value - seen[i]!));
      },
      [0.4, 0.7, 1, 1.4, 2].map((factor) => [Math.log(factor), 0]),
    );
    expect(Math.abs(Math.exp(values[0]!) / hertz - 1)).toBeLessThan(0.05);
    expect(Math.abs(Math.exp(values[1]!) / 1.5 - 1)).toBeLessThan(0.05);
  });

  it('leaves what nothing was seen of as assumed, as doubtful as it was', () => {
    const { values, deviations } = fitted([loose, loose], ([a]) => Float64Array.of(20 * (a! - 0.7)), [
      [0, 0],
      [1, 1],
    ]);
    expect(values[0]).toBeCloseTo(0.7, 2);
    expect(values[1]).toBeCloseTo(0, 2);
    expect(deviations[0]).toBeLessThan(0.1);
    expect(deviations[1]).toBeCloseTo(3, 2);
  });
});
