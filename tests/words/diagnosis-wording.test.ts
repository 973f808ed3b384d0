import { expect, test } from 'vitest';
import {
  causesText,
  causeText,
  minuteText,
  placeName,
  polygonText,
  sentence,
  whereText,
} from '../../src/words/diagnosis-wording.js';

test.each([
  [0.1, 0.1, 'upper left'],
  [0.5, 0.1, 'top'],
  [0.9, 0.5, 'right'],
  [0.5, 0.5, 'middle'],
  [0, 1, 'lower left'],
  [1, 1, 'lower right'],
])('%s across and %s down is %s', (x, y, name) => {
  expect(placeName(x, y)).toBe(name);
});

test('boxes are where most of their middles are, or here and there', () => {
  expect(
    whereText([
      [0, 0.7, 0.2, 0.3],
      [0.1, 0.8, 0.1, 0.1],
      [0.7, 0, 0.2, 0.2],
    ]),
  ).toBe('lower left');
  expect(
    whereText([
      [0, 0.7, 0.2, 0.3],
      [0.7, 0, 0.2, 0.2],
    ]),
  ).toBe('here and there');
  expect(whereText([[0, 0, 0.9, 0.9]])).toBe('all over');
});

test('a polygon in a corner is called so, with its corners and its share of the picture', () => {
  // A right triangle with legs of 0.4 and 0.5: a tenth of the frame.
  const corner: [number, number][] = [
    [0, 0.5],
    [0.4, 1],
    [0, 1],
  ];
  expect(polygonText(corner)).toBe(
    'the corner at the lower left (a polygon of 3 corners, 10 % of the picture)',
  );
  const patch: [number, number][] = [
    [0.4, 0.4],
    [0.6, 0.4],
    [0.6, 0.6],
    [0.4, 0.6],
  ];
  expect(polygonText(patch)).toBe('a patch at the middle (a polygon of 4 corners, 4 % of the picture)');
});

test.each([
  [0, 0, 0.1, 1, 'a strip along the left side'],
  [0, 0.8, 1, 1, 'a strip along the bottom'],
  [0.4, 0.5, 1, 1, 'the corner at the lower right'],
  [0.1, 0, 1, 0.4, 'a patch at the top'],
  [0, 0.4, 0.1, 0.6, 'a patch at the left'],
])('from %s, %s to %s, %s lies %s', (left, top, right, bottom, name) => {
  const corners: [number, number][] = [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ];
  expect(polygonText(corners)).toContain(`${name} (`);
});

test('a polygon of any number of corners is told', () => {
  const round = Array.from({ length: 200_000 }, (_, i): [number, number] => {
    const turn = (2 * Math.PI * i) / 200_000;
    return [0.5 + 0.2 * Math.cos(turn), 0.5 + 0.2 * Math.sin(turn)];
  });
  expect(polygonText(round)).toBe('a patch at the middle (a polygon of 200000 corners, 13 % of the picture)');
});

test('sentences begin with a capital and end with one full stop', () => {
  expect(sentence('it moved')).toBe('It moved.');
  expect(sentence('It moved.')).toBe('It moved.');
});

test('what is unknown has no percentage of its own', () => {
  const trigger = { time: 1, probability: 0.42, evidence: '', box: [0, 0, 1, 1] } as const;
  expect(causeText({ ...trigger, box: [0, 0, 1, 1], cause: 'unknown' })).toBe('unknown');
  expect(causeText({ ...trigger, box: [0, 0, 1, 1], cause: 'wind' })).toBe('wind in vegetation, 42 %');
});

test('causes are counted in one sentence', () => {
  expect(
    causesText([
      { cause: 'wind', triggers: [1, 2] },
      { cause: 'unknown', triggers: [3] },
    ]),
  ).toBe('Wind in vegetation 2, unknown 1.');
});

test('one trigger makes no busy minute', () => {
  expect(minuteText({ start: 60, count: 1 })).toBe('-');
  expect(minuteText({ start: 60, count: 3 })).toBe('1:00-2:00 (3)');
});
