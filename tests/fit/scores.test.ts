import seedrandom from 'seedrandom';
import { describe, expect, it } from 'vitest';
import { triggersOf } from '../../src/engine/triggers.js';
import { agreementOf } from '../../src/fit/score/agreement.js';
import { middleOfBest, placeOf, scoreAll, valuesAt } from '../../src/fit/score/scores.js';
import { type Axes, cooldownsFor } from '../../src/fit/search/axes.js';

const random = seedrandom('scores');
const FRAMES = 400;
const times = Float64Array.from({ length: FRAMES }, (_, k) => k / 5);
const levels = [4, 8, 16];
// Areas that come and go, the fewer the higher the level.
const base = Array.from({ length: FRAMES }, (_, k) => Math.max(0, 60 * Math.sin(k / 9) + 30 * random()));
const column = (share: number) => Uint32Array.from(base, (area) => area * share);
const region = new Map(levels.map((level, i) => [level, column(1 / (i + 2))]));
const changed = new Map(levels.map((level, i) => [level, column(1 / (i + 1))]));
const axes: Axes = {
  kinds: ['region', 'changed'],
  levels,
  areas: [2, 5, 12, 30, 70],
  persistences: [1, 2, 4],
  cooldowns: [0, 1, 3, 6],
};
const tolerance = { most: 0.3, free: 0.3, span: null };

it('every combination scores as the trigger machine fires', () => {
  const machine = (
    kind: Map<number, Uint32Array>,
    level: number,
    area: number,
    frames: number,
    busy: number,
  ) => triggersOf(times, (k) => kind.get(level)![k]! >= area, frames, busy).map((k) => times[k]!);
  const fired = Float64Array.from(machine(region, 8, 12, 2, 3));
  const scores = scoreAll({ region, changed }, times, axes, { fired, tolerance, from: 0, to: 80 });
  let compared = 0;
  scores.values.forEach((value, index) => {
    const { kind, level, area, persistence, cooldown } = valuesAt(axes, placeOf(scores, index));
    const predicted = machine(kind === 'region' ? region : changed, level, area, persistence, cooldown);
    // Far too few or too many triggers are not looked at further.
    if (value === 0 && (predicted.length < 0.4 * fired.length || predicted.length > 2.2 * fired.length))
      return;
    expect(value).toBeCloseTo(agreementOf(fired, predicted, tolerance).f1, 6);
    compared++;
  });
  expect(compared).toBeGreaterThan(100);
  expect(middleOfBest(scores, 1000)?.own).toBe(1);
});

describe('the middle of the best', () => {
  it('lies away from the edge where much does equally well', () => {
    const one: Axes = {
      ...axes,
      kinds: ['region'],
      levels: [5, 6, 7, 8, 9, 10, 11],
      persistences: [1],
      cooldowns: [2],
    };
    const areas = [10, 11, 12, 13, 14, 15, 16];
    const values = new Float32Array(49);
    for (let l = 0; l < 7; l++) for (let a = 0; a < 7; a++) if (l >= 1 && a >= 1) values[l * 7 + a] = 1;
    const best = middleOfBest({ axes: { ...one, areas }, values }, 40);
    expect(best!.values).toMatchObject({ level: 8, area: 13 });
  });

  it('is nowhere where nothing explains anything', () => {
    const none = new Float32Array(axes.kinds.length * 3 * 5 * 3 * 4);
    expect(middleOfBest({ axes, values: none }, 10)).toBeNull();
  });
});

describe('cooldowns that may be meant', () => {
  it('are no longer than the shortest gap', () => {
    const cooldowns = cooldownsFor([0, 5.2, 30, 60], 0.2, 0.2, []);
    expect(Math.max(...cooldowns)).toBe(5);
    expect(cooldowns).toContain(4);
  });

  it('reach from none to the gap where visits are rare, for nothing tells a short one from a long one', () => {
    const cooldowns = cooldownsFor([0, 400, 1900, 5000], 0.2, 0.2, []);
    expect(cooldowns).toEqual(expect.arrayContaining([0, 2, 5, 10, 300, 399.8]));
    expect(cooldowns.length).toBeLessThanOrEqual(13);
    expect(cooldowns).toEqual([...cooldowns].sort((a, b) => a - b));
    const steps = cooldowns.slice(4).map((cooldown, i) => cooldown / cooldowns[i + 3]!);
    expect(Math.max(...steps)).toBeLessThanOrEqual(3);
  });

  it('are those of the dial where it is known', () => {
    expect(cooldownsFor([0, 5.2, 30], 0.2, 0.2, [2, 5, 10])).toEqual([2, 5]);
    expect(cooldownsFor([0, 1, 30], 0.2, 0.2, [2, 5, 10])).toEqual([2]);
  });
});
