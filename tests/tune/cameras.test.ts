import seedrandom from 'seedrandom';
import { describe, expect, it } from 'vitest';
import {
  againstFirst,
  asFarAsTried,
  cameraVerdict,
  chosenAnew,
  type Photographed,
  takenOf,
} from '../../src/tune/cameras.js';
import type { Goal } from '../../src/tune/goal.js';

const worth: Goal = { kind: 'worth', photos: 10, photosPerTrigger: 2 };
const allowance: Goal = { kind: 'allowance', falsePerHour: 4 };

/** A clip of an hour with a visit for each letter, x where it was caught, and photos of nothing ten minutes apart. */
function unit(visits: string, nothing = 0): Photographed {
  return {
    visits: [...visits].map((letter, i) => ({
      visit: { clip: 'calm', start: 10 * i, end: 10 * i + 5, name: `visit ${i}` },
      caught: letter === 'x',
    })),
    nothing: Array.from({ length: nothing }, (_, i) => 600 * i),
    watchedHours: 1,
  };
}
const photos = (units: Photographed[]) => ({
  nothingPerHour: takenOf(units).nothingPerHour,
  photosPerTrigger: 2,
});
const verdict = (first: Photographed[], other: Photographed[], goal: Goal) => {
  const { visits } = takenOf(other);
  return cameraVerdict(againstFirst(first, other, goal), visits, goal, photos(other));
};

describe('a camera against the first', () => {
  it('names the visits that only one of the two catches', () => {
    const { gained, lost } = againstFirst([unit('xx..')], [unit('x.x.')], worth);
    expect(gained.map(({ name }) => name)).toEqual(['visit 2']);
    expect(lost.map(({ name }) => name)).toEqual(['visit 1']);
  });

  it('takes off, by worth, what photos of nothing come to, and by an allowance nothing', () => {
    // Twenty photos more in an hour of four visits are worth two of them: half.
    const [first, other] = [[unit('xx..')], [unit('xxx.', 20)]];
    expect(againstFirst(first, other, worth).given?.value).toBeCloseTo(0.25 - 0.5, 12);
    expect(againstFirst(first, other, allowance).given?.value).toBeCloseTo(0.25, 12);
  });

  it('is not compared across the gap between two clips: what came late in one is not near what came early in the next', () => {
    const late = { ...unit('x'), nothing: [3599] };
    const early = { ...unit('x'), nothing: [1] };
    const none = unit('x');
    const apart = againstFirst([none, early], [late, none], worth).nothingPerHour;
    const together = againstFirst([none], [{ ...unit('x'), nothing: [1, 2] }], worth).nothingPerHour;
    expect(apart?.value).toBe(0);
    expect(together?.value).toBe(2);
  });

  const many = 'x'.repeat(60);
  it.each([
    ['better', '.'.repeat(60), many, 0, worth],
    ['worse', many, '.'.repeat(60), 0, worth],
    ['worse', many, many, 500, worth],
    ['as good', many, many, 0, worth],
    ['too little to tell', 'xxxxxx', '......', 0, worth],
    ['too little to tell', 'xxxxxxxx..', 'xxxxxxx..x', 0, worth],
    ['over the allowance', many, many, 60, allowance],
    ['as good', many, many, 2, allowance],
  ] as const)('%s', (expected, first, other, nothing, goal) => {
    expect(verdict([unit(first)], [unit(other, nothing)], goal)).toBe(expected);
  });

  it('is called better or worse in at most one case in ten where the two do not differ', () => {
    const random = seedrandom('no difference');
    const rounds = 400;
    let wrong = 0;
    /** An hour: visits caught as by chance, and photos of nothing in bunches of one to four, as gusts bring them. */
    const drawn = (): Photographed => {
      const caught = Array.from({ length: 24 }, () => (random() < 0.6 ? 'x' : '.')).join('');
      const bunches = Array.from({ length: 60 }, (_, i) => 60 * i).filter(() => random() < 0.2);
      const nothing = bunches.flatMap((at) =>
        Array.from({ length: 1 + Math.floor(4 * random()) }, (_, i) => [at + 5 * i, at + 5 * i]).flat(),
      );
      return { ...unit(caught), nothing };
    };
    for (let round = 0; round < rounds; round++) {
      const told = verdict([drawn()], [drawn()], worth);
      if (told === 'better' || told === 'worse') wrong++;
    }
    expect(wrong / rounds).toBeLessThanOrEqual(0.1);
  });

  it('tells nothing against a camera, or the first, of which not all was tried', () => {
    const only = (first: boolean, other: boolean) => ({ first, other });
    expect(asFarAsTried('worse', only(true, false))).toBe('too little to tell');
    expect(asFarAsTried('better', only(true, false))).toBe('better');
    expect(asFarAsTried('better', only(false, true))).toBe('too little to tell');
    expect(asFarAsTried('worse', only(false, true))).toBe('worse');
  });
});

describe('choosing among many cameras that do not differ', () => {
  it('is flattered on the footage chosen on, and not where it is chosen anew', () => {
    const random = seedrandom('alike');
    const [cameras, units, visits, rounds] = [12, 6, 6, 200];
    let [flattered, honest] = [0, 0];
    for (let round = 0; round < rounds; round++) {
      const caught = Array.from({ length: units }, () =>
        Array.from({ length: cameras }, () =>
          unit(Array.from({ length: visits }, () => (random() < 0.5 ? 'x' : '.')).join('')),
        ),
      );
      const on = (camera: number, of: typeof caught) => takenOf(of.map((all) => all[camera]!)).caught;
      const best = Math.max(...Array.from({ length: cameras }, (_, camera) => on(camera, caught)));
      const { photographed, times } = chosenAnew(
        caught.map((all, u) => ({
          given: all.map((_, camera) => on(camera, [...caught.slice(0, u), ...caught.slice(u + 1)])),
          photographed: all,
        })),
      );
      flattered += best / (units * visits) / rounds;
      honest += takenOf(photographed).caught / (units * visits) / rounds;
      expect(times.reduce((a, b) => a + b)).toBe(units);
    }
    // The truth is a half; 36 visits a round, 200 rounds: three standard errors are 0.018.
    expect(flattered).toBeGreaterThan(0.6);
    expect(honest).toBeLessThan(0.52);
    expect(honest).toBeGreaterThan(0.4);
  });
});
