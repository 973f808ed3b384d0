import { expect, it } from 'vitest';
import type { Controls } from '../../src/camera/dials.js';
import { changesBetween } from '../../src/check/changes.js';
import type { Replayed } from '../../src/check/results.js';
import { results } from './made.js';

const controls: Controls = {
  sensitivity: { sets: 'threshold', from: 1, to: 10, step: 1, gives: [60, 6] },
  cooldown: { sets: 'cooldown', choices: [2, 4, 10] },
};
const other = 'f'.repeat(64);
const settings = (values: Partial<Replayed['settings']>): Replayed => {
  const plain = results();
  return { ...plain, controls, settings: { ...plain.settings, ...values } };
};
/** Accepted results: they know no dials. */
const { controls: _, ...accepted } = settings({ threshold: 24 });

it('settings are told as the dials of the camera stand', () => {
  const now = settings({ key: other, threshold: 42, cooldown: 10 });
  expect(changesBetween(accepted, now)).toEqual(['settings: sensitivity 4, was 7; cooldown 10, was 4']);
});

it('settings that no position gives are told as engine values', () => {
  expect(changesBetween(accepted, settings({ key: other, threshold: 43 }))).toEqual([
    'settings: threshold 43, was 24',
  ]);
});

it('positions of two different dials are not held against each other', () => {
  const sensitivity: Controls[string] = { sets: 'threshold', from: 1, to: 10, step: 1, gives: [42, 24] };
  const now = { ...settings({ key: other, threshold: 42 }), controls: { ...controls, sensitivity } };
  expect(changesBetween({ ...accepted, controls }, now)).toEqual(['settings: threshold 42, was 24']);
});

it('a mask is only said to be another', () => {
  const mask: Replayed['settings']['mask'] = [
    [
      [0, 0],
      [1, 0],
      [1, 1],
    ],
  ];
  expect(changesBetween(accepted, settings({ key: other, mask }))).toEqual(['settings: another mask']);
});
