import { describe, expect, it } from 'vitest';
import { random } from '../../../src/base/random.js';
import { Chances } from '../../../src/tune/moments/chance.js';
import { valueOfAnswers } from '../../../src/tune/moments/value.js';

/** Worths of settings, each row's if it is an animal and if it is nothing. */
const tries = (known: number[], ...rows: { animal: number[]; nothing: number[] }[]) => ({
  size: known.length,
  known: Float64Array.from(known),
  animal: rows.map(({ animal }) => Float32Array.from(animal)),
  nothing: rows.map(({ nothing }) => Float32Array.from(nothing)),
});
const value = (of: ReturnType<typeof tries>, changing = 1) =>
  valueOfAnswers(
    of,
    of.animal.map(() => 3),
    Chances.from([]),
    changing,
    random('value', 'test'),
  );

describe('what an answer is worth', () => {
  it('is what the choice gains by it on average: a fifth of a chance to gain 10 - 2', () => {
    // Setting 1 fires at it, setting 0 does not. Before: 0 against 0.2 * 10 - 0.8 * 6 = -2.8, so 0 it is. After: an animal
    // makes setting 1 worth 10 more, nothing changes nothing: 0.2 * 10 + 0.8 * 0 = 2.
    const { best, rows } = value(tries([0, 0], { animal: [0, 10], nothing: [0, -6] }));
    expect(best).toBe(0);
    expect(rows[0]).toBeCloseTo(2, 6);
  });

  it('is nothing where no answer changes the choice', () => {
    const { rows, all, settled } = value(tries([20, 0], { animal: [0, 10], nothing: [0, -6] }));
    expect([...rows]).toEqual([0]);
    expect(all).toBe(0);
    expect(settled).toBe(true);
  });

  it('is nothing for one answer, but not for two, where it takes two to change the choice', () => {
    const one = { animal: [0, 10], nothing: [0, -2] };
    const { rows, all, changes, pulls, settled } = value(tries([15, 0], one, one));
    expect([...rows]).toEqual([0, 0]);
    expect(settled).toBe(false);
    // Both are animals: 0.2 * (2 * 0.2 + 1) / 3 by the urn's two steps is near 0.12, and gains 20 - 15.
    expect(all).toBeGreaterThan(0.2);
    expect(all).toBeLessThan(1.2);
    expect(changes).toBeGreaterThan(0.04);
    expect(pulls[0]).toBeGreaterThan(0);
  });

  it('is settled where all are known', () => {
    const { settled, all, best } = value(tries([3, 4, 4]));
    expect({ settled, all, best }).toEqual({ settled: true, all: 0, best: 1 });
  });
});

describe('the chance of an animal', () => {
  const row = (sizeClass: number, known: 'animal' | 'nothing' | 'person' | null) => ({ sizeClass, known });

  it('is one in five before anything is labelled', () => {
    expect(Chances.from([row(2, null), row(3, 'person')]).of(2)).toBeCloseTo(0.2, 12);
  });

  it('goes by all that was found, and by what was found among those of its size twice', () => {
    const chances = Chances.from([row(4, 'animal'), row(4, 'animal'), row(1, 'nothing'), row(1, 'nothing')]);
    // Of all (2 + 2 * 0.2) / (4 + 2) = 0.4; of its size (2 + 2 * 0.4) / 4 and 2 * 0.4 / 4.
    expect(chances.of(4)).toBeCloseTo(0.7, 12);
    expect(chances.of(1)).toBeCloseTo(0.2, 12);
    expect(chances.of(9)).toBeCloseTo(0.4, 12);
  });
});
