import { expect, test } from 'vitest';
import { diagnosisShots } from '../../src/report/diagnosis-shots.js';
import type { Labels } from '../../src/score/labels.js';
import { logPile } from './diagnosis-example.js';

const times = Array.from({ length: 1200 }, (_, k) => k / 5);
const labels = (...people: [start: number, end: number][]): Labels => ({
  version: 1,
  visits: [
    { start: 10, end: 16, type: 'animal', name: 'wood mouse', box: [0.1, 0.2, 0.3, 0.4] },
    ...people.map(([start, end]) => ({ start, end, type: 'human' as const })),
  ],
});

test('the surest of each cause stands before any other trigger', () => {
  const { fired } = diagnosisShots(logPile, labels(), times, 4, false);
  // Unknown, rain, the surer of two insects, the surest wind.
  expect(fired.shots.map(({ trigger }) => trigger)).toEqual([160, 175, 200, 214]);
  expect(fired.more).toBe(9);
});

test('a picture shows the frame it fired at, with cause, probability and evidence', () => {
  const { fired } = diagnosisShots(logPile, labels(), times, 4, false);
  const shot = fired.shots.find(({ trigger }) => trigger === 175);
  expect(shot?.frame).toBe(175 * 5);
  expect(shot?.caption).toBe('2:55.0: rain, 66 %. Many thin upright streaks all over the picture.');
});

test('pictures with a person in view are left out and counted', () => {
  const { fired, missed } = diagnosisShots(logPile, labels([60, 90], [150, 151]), times, 20, false);
  // Fired at 62, 74 and 86; the missed visits of 1:27 and 2:30 have no box for the person.
  expect(fired.people).toBe(3);
  expect(missed.people).toBe(2);
});

test('missed visits are framed where their labels give a place, with the reason', () => {
  const { missed } = diagnosisShots(logPile, labels(), times, 20, false);
  expect(missed.shots[0]).toMatchObject({
    box: [0.1, 0.2, 0.3, 0.4],
    caption: '0:10.0 to 0:16.0, wood mouse: too faint',
  });
});

test('where no region can be hatched the box is framed', () => {
  const boxes = (framed: boolean) =>
    diagnosisShots(logPile, labels(), times, 1, framed).fired.shots.map(({ box }) => box);
  expect(boxes(false)).toEqual([null]);
  expect(boxes(true)[0]).not.toBeNull();
});
