import { describe, expect, it } from 'vitest';
import { mostOfKind } from '../../src/score/quiet.js';

describe('the most that can be of a kind among all, by a sample', () => {
  it('counts the ways to draw: of 10 with 3 of the kind, 5 drawn miss all of them in 21 of 252', () => {
    // D = 3: C(7,5)/C(10,5) = 21/252 = 8.3 %; D = 4: C(6,5)/C(10,5) = 6/252 = 2.4 %.
    expect(mostOfKind(10, 5, 0)).toBe(3);
    expect(mostOfKind(10, 5, 0, 0.02)).toBe(4);
    expect(mostOfKind(10, 5, 0, 0.1)).toBe(2);
  });

  it('holds to the ratio from one count to the next: 1 found of 2 drawn from 4', () => {
    // D = 3: P(X <= 1) = C(3,1) C(1,1) / C(4,2) = 1/2; D = 4: both drawn would be of the kind.
    expect(mostOfKind(4, 2, 1)).toBe(3);
  });

  it('is the rule of three for large stores (Hanley & Lippman-Hand 1983, JAMA 249:1743, from memory)', () => {
    const share = mostOfKind(1_000_000, 100, 0) / 1_000_000;
    expect(Math.abs(share - 3 / 100)).toBeLessThan(0.001);
    // Its closed form: 1 - 0.05^(1/n).
    expect(share).toBeCloseTo(1 - 0.05 ** (1 / 100), 4);
  });

  it('tells all once all are seen, and nothing before one is', () => {
    expect(mostOfKind(20, 20, 3)).toBe(3);
    expect(mostOfKind(20, 0, 0)).toBe(20);
    expect(mostOfKind(0, 0, 0)).toBe(0);
  });

  it('covers what is so: the true number is above it in at most one sample of twenty', () => {
    const chance = (x: number, all: number, kind: number, n: number) =>
      (choose(kind, x) * choose(all - kind, n - x)) / choose(all, n);
    for (const [all, n] of [
      [15, 6],
      [30, 12],
    ] as const) {
      for (let kind = 0; kind <= all; kind++) {
        let above = 0;
        for (let x = Math.max(0, n - (all - kind)); x <= Math.min(n, kind); x++) {
          if (mostOfKind(all, n, x) < kind) above += chance(x, all, kind, n);
        }
        expect(above, `${kind} of ${all}`).toBeLessThanOrEqual(0.05 + 1e-9);
      }
    }
  });
});

function choose(n: number, k: number): number {
  let ways = 1;
  for (let i = 1; i <= k; i++) ways = (ways * (n - k + i)) / i;
  return ways;
}
