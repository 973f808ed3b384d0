import fc from 'fast-check';
import seedrandom from 'seedrandom';
import { describe, expect, it } from 'vitest';
import { differences } from '../../src/check/compare.js';
import { BOUT, balances, infer, type Test } from '../../src/check/infer.js';
import { signFlip } from '../../src/score/paired.js';
import { clip, triggers, visit } from './made.js';

const RUNS = 1000;

/** Clips whose visits were caught before and are caught now as `caught` says for each of them. */
function visited(name: string, pairs: readonly (readonly [before: boolean, now: boolean])[]) {
  const side = (which: 0 | 1) =>
    clip(
      name,
      pairs.map((pair, i) => visit(10 * i, pair[which])),
    );
  return { clip: name, differences: differences(side(0), side(1)) };
}

function fired(name: string, before: readonly number[], now: readonly number[]) {
  const side = (times: readonly number[]) => clip(name, [], triggers('false', ...times));
  const rising = (times: readonly number[]) => times.toSorted((a, b) => a - b);
  return { clip: name, differences: differences(side(rising(before)), side(rising(now))) };
}

/** Cuts a list into so many of about the same length. */
function split<T>(all: readonly T[], parts: number): T[][] {
  return Array.from({ length: parts }, (_, k) => all.filter((_, i) => i % parts === k));
}

const overall = (of: 'visits' | 'false triggers', tests: ReturnType<typeof infer>['tests']) =>
  tests.find((test) => test.clip === null && test.of === of);

/** The share of runs in which something asked about, over all clips or of one, is called worse. */
function calledWorse(
  run: (random: () => number) => Parameters<typeof infer>[0],
  seed: string,
  about: (test: Test) => boolean = () => true,
): number {
  const random = seedrandom(seed);
  const isWorse = (test: Test) => about(test) && test.answer === 'worse';
  let worse = 0;
  for (let i = 0; i < RUNS; i++) if (infer(run(random)).tests.some(isWorse)) worse++;
  return worse / RUNS;
}

describe('what is said of visits', () => {
  it.each([1, 4, 10])(
    'with 40 visits in %i clips a loss of three in ten is called worse in nine runs of ten',
    (parts) => {
      const rate = calledWorse(
        (random) => {
          const pairs = Array.from({ length: 40 }, () => [true, random() >= 0.3] as const);
          // False triggers that change as well must not take the power away.
          return split(pairs, parts).map((some, k) => {
            const times = Array.from({ length: 20 }, (_, i) => 100 * i + Math.floor(40 * random()));
            const other = fired(
              `clip ${k}`,
              times,
              times.map((time) => time + 45 * random()),
            );
            const { lost, gained } = visited('', some).differences;
            return { clip: `clip ${k}`, differences: { ...other.differences, lost, gained } };
          });
        },
        'power',
        ({ clip, of }) => clip === null && of === 'visits',
      );
      expect(rate).toBeGreaterThanOrEqual(0.9);
    },
  );

  it.each([1, 4, 10])('no difference in %i clips is called worse in at most one run of twenty', (parts) => {
    const rate = calledWorse((random) => {
      const pairs = Array.from({ length: 80 }, () => [random() < 0.6, random() < 0.6] as const);
      return split(pairs, parts).map((some, k) => visited(`clip ${k}`, some));
    }, 'level');
    expect(rate).toBeLessThanOrEqual(0.05);
  });

  it('is not changed by a clip without visits, whatever it fires at', () => {
    const busy = fired(
      'no visits',
      [],
      Array.from({ length: 40 }, (_, i) => 60 * i),
    );
    const clips = [visited('a', Array(8).fill([true, false])), visited('b', Array(7).fill([true, false]))];
    for (const some of [clips, clips.slice(0, 1)]) {
      const visitTests = (all: typeof clips) => infer(all).tests.filter((test) => test.of === 'visits');
      expect(visitTests([...some, busy])).toEqual(visitTests(some));
    }
  });
});

describe('what is said of false triggers', () => {
  it('is worse where they come in more and more gusts', () => {
    const now = Array.from({ length: 12 }, (_, i) => 100 * i);
    // 2 x 2^-12, and twice that for the two questions.
    expect(overall('false triggers', infer([fired('a', [], now)]).tests)).toMatchObject({
      worse: 12,
      better: 0,
      units: 12,
      p: 2 ** -11,
      adjusted: 2 ** -10,
      answer: 'worse',
    });
  });

  it('is too little to tell where one gust fires twelve times', () => {
    const now = Array.from({ length: 12 }, (_, i) => 2 * i);
    expect(overall('false triggers', infer([fired('a', [], now)]).tests)).toMatchObject({
      worse: 12,
      units: 1,
      answer: 'too little to tell',
    });
  });

  /** Gusts at random over two hours; each fires before and now in bursts that know nothing of each other. */
  function gusty(random: () => number, name: string) {
    const before: number[] = [];
    const now: number[] = [];
    for (let time = 0; time < 7200; time += -Math.log(1 - random()) * 120) {
      for (const side of [before, now]) {
        if (random() < 0.5) continue;
        for (let at = time + 3 * random(); at < time + 25; at += 2 + random()) side.push(at);
      }
    }
    return fired(name, before, now);
  }

  it('is called worse in at most 5 % of runs where gusts fire in bursts and nothing differs', () => {
    const rate = calledWorse((random) => [gusty(random, 'a'), gusty(random, 'b')], 'bursts');
    expect(rate).toBeLessThanOrEqual(0.05);
  });

  it('would be called worse far more often were each trigger of a burst counted by itself', () => {
    const random = seedrandom('bursts');
    let worse = 0;
    for (let i = 0; i < 200; i++) {
      const { newFalse, goneFalse } = gusty(random, 'a').differences;
      const p = signFlip([...newFalse.map(() => 1), ...goneFalse.map(() => -1)]);
      if (p <= 0.05 && newFalse.length > goneFalse.length) worse++;
    }
    expect(worse / 200).toBeGreaterThan(0.15);
  });
});

describe('bouts', () => {
  it('begin with the first trigger that differs and hold half a minute', () => {
    const { differences: found } = fired('a', [5, 36], [10, 33, 34]);
    // 5 to 35: one gone, three new; 36: one gone.
    expect(BOUT).toBe(30);
    expect(balances(found)).toEqual([2, -1]);
  });

  it('are as they were when all times are shifted', () => {
    const times = fc.uniqueArray(fc.integer({ min: 0, max: 400 }), { maxLength: 40 });
    fc.assert(
      fc.property(times, times, fc.integer({ min: 1, max: 5000 }), (before, now, shift) => {
        const by = (all: number[], s: number) => all.map((time) => time + s);
        const shifted = fired('a', by(before, shift), by(now, shift));
        expect(balances(shifted.differences)).toEqual(balances(fired('a', before, now).differences));
      }),
      { seed: 6, numRuns: 100 },
    );
  });
});

it('shuffling the clips changes no answer and no digit', () => {
  const random = seedrandom('order');
  const clips = Array.from({ length: 6 }, (_, k) => {
    const pairs = Array.from({ length: 12 }, () => [true, random() < 0.2] as const);
    return visited(`clip ${k}`, pairs);
  });
  const byName = (all: typeof clips) =>
    infer(all).tests.toSorted((a, b) => ((a.clip ?? '') + a.of < (b.clip ?? '') + b.of ? -1 : 1));
  expect(byName(clips.toReversed())).toEqual(byName(clips));
});

it('without clips to compare nothing is inferred', () => {
  expect(infer([]).tests).toEqual([]);
});
