import { expect, it } from 'vitest';
import { upperLimit } from '../../src/fit/choice/upper-limit.js';

const times = Float64Array.from({ length: 400 }, (_, k) => k / 5);
const values = { kind: 'region', level: 20, area: 30, persistence: 1, cooldown: 2 } as const;
/** Every ten seconds something comes; from `gusts` on all of the picture stirs with it. */
const at = (k: number) => k % 50 === 10;
const area = Uint32Array.from(times, (_, k) => (at(k) ? 40 : 0));
const changed = (gusts: readonly number[]) =>
  Uint32Array.from(times, (_, k) => (at(k) ? (gusts.includes(k) ? 5000 : 60 + k) : 0));
const wanted = (fired: number[]) => ({
  fired: Float64Array.from(fired),
  tolerance: { most: 0.5, free: 0.1, span: null },
  from: 0,
  to: 80,
});

it('is found where the camera stayed silent whenever much changed, between what fired and what did not', () => {
  const found = upperLimit(area, changed([60, 160]), times, values, wanted([2, 22, 42, 52, 62, 72]));
  expect(found!.mostChanged).toBeGreaterThanOrEqual(60 + 360);
  expect(found!.mostChanged).toBeLessThan(5000);
  expect(found!.predicted).toEqual([2, 22, 42, 52, 62, 72]);
});

it('is not made up for one trigger, nor where it also fired when much changed', () => {
  expect(upperLimit(area, changed([60]), times, values, wanted([2, 22, 32, 42, 52, 62, 72]))).toBeNull();
  const all = [2, 12, 22, 32, 42, 52, 62, 72];
  expect(upperLimit(area, changed([60, 160]), times, values, wanted(all))).toBeNull();
});
