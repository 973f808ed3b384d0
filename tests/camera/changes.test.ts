import { expect, it } from 'vitest';
import { settingChanges } from '../../src/camera/changes.js';
import type { Controls } from '../../src/camera/dials.js';

const settings = { threshold: 60, minimumArea: 100, mostChanged: 9000, persistence: 1, cooldown: 10 };
const controls: Controls = {
  sensitivity: { sets: 'threshold', from: 1, to: 10, step: 1, gives: [60, 6] },
  pause: { sets: 'cooldown', choices: [2, 10] },
};
const changes = (is: Partial<typeof settings>) => settingChanges(settings, { ...settings, ...is }, controls);

it('a value at positions of a dial is told by them', () => {
  expect(changes({ threshold: 24, cooldown: 2 })).toEqual([
    { name: 'sensitivity', was: 1, is: 7, dial: true },
    { name: 'pause', was: 10, is: 2, dial: true },
  ]);
});

it('a value between two positions is told by itself', () => {
  expect(changes({ threshold: 25 })).toEqual([{ name: 'threshold', was: 60, is: 25, dial: true }]);
});

it('a value without a dial is told by itself', () => {
  expect(changes({ persistence: 2 })).toEqual([{ name: 'persistence', was: 1, is: 2, dial: false }]);
});

it('what is the same is not told', () => {
  expect(changes({})).toEqual([]);
});
