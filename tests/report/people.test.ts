import { expect, test } from 'vitest';
import { type Canvas, canvasOf } from '../../src/report/canvas.js';
import { blurBox, privacyAt } from '../../src/report/people.js';
import { shotsOf } from '../../src/report/shots.js';
import type { Labels, Visit } from '../../src/score/labels.js';
import { judgeAll } from '../../src/score/replayed.js';
import { truthOf } from '../../src/score/truth.js';

const person: Visit = { start: 20, end: 30, type: 'human', box: [0.5, 0, 0.25, 0.5] };
const faceless: Visit = { start: 20, end: 30, type: 'human' };
const wren: Visit = { start: 18, end: 26, type: 'animal', name: 'wren' };

function labels(...visits: Visit[]): Labels {
  return { version: 1, visits };
}

test('a picture with nobody about is shown', () => {
  expect(privacyAt(labels(person), [10], { animal: false })).toEqual({ kind: 'nobody' });
});

test('a picture of a person alone is left out, box or not', () => {
  expect(privacyAt(labels(person), [25], { animal: false })).toEqual({ kind: 'leave out' });
});

test('a picture of an animal with a person is blurred where the person has a box', () => {
  expect(privacyAt(labels(person, wren), [25], { animal: true })).toEqual({
    kind: 'blur',
    boxes: [person.box],
  });
  expect(privacyAt(labels(faceless, wren), [25], { animal: true })).toEqual({ kind: 'leave out' });
});

test('with two people of whom one has no box the picture is left out', () => {
  expect(privacyAt(labels(person, faceless, wren), [25], { animal: true })).toEqual({ kind: 'leave out' });
});

test('the second before and after a person came counts as theirs', () => {
  const kinds = [18.9, 19.5, 30.5, 31.1].map(
    (time) => privacyAt(labels(person), [time], { animal: false }).kind,
  );
  expect(kinds).toEqual(['nobody', 'leave out', 'leave out', 'nobody']);
});

test("a frame's own time counts, not only the time the photo is said to be taken", () => {
  expect(privacyAt(labels(person), [18, 19.2], { animal: false }).kind).toBe('leave out');
});

/** A chequered canvas of 40 by 20, so that no patch of it is flat. */
function chequered(): Canvas {
  return canvasOf(
    Uint8Array.from({ length: 800 }, (_, i) => ((i + Math.floor(i / 40)) % 2 ? 255 : 0)),
    1,
    40,
    20,
  );
}

test('blurring leaves a few flat cells in the box and the rest as it was', () => {
  const canvas = chequered();
  const before = Uint8Array.from(canvas.bitmap.data);
  blurBox(canvas, [0.5, 0, 0.25, 0.5]);
  const levels = new Set<number>();
  for (let y = 0; y < 20; y++) {
    for (let x = 0; x < 40; x++) {
      const at = 4 * (y * 40 + x);
      // The box with a twentieth of the frame around it: x from 18 to 31, y to 10.
      if (x >= 20 && x < 30 && y < 10) levels.add(canvas.bitmap.data[at]!);
      if (x < 18 || x >= 32 || y >= 11) expect(canvas.bitmap.data[at]).toBe(before[at]);
    }
  }
  expect(levels.size).toBeLessThanOrEqual(16);
  expect([...levels].every((level) => level > 60 && level < 195)).toBe(true);
});

const times = Array.from({ length: 500 }, (_, k) => k / 5);
const judgedAt = (fired: number[], given: Labels) =>
  judgeAll(fired, (time) => [time + 0.8], truthOf(given, 100));

test('photos and missed visits with people in view are left out and counted', () => {
  const hidden = labels(faceless, wren, { ...wren, start: 50, end: 55, name: 'starling' });
  const groups = shotsOf(judgedAt([22, 70], hidden), hidden, times, 12);
  expect(groups.taken).toEqual({ shots: [], more: 0, people: 1 });
  expect(groups.nothing.shots.map((shot) => shot.trigger)).toEqual([70]);
  expect(groups.missed.shots.map((shot) => shot.caption)).toEqual(['0:50.0 to 0:55.0, starling']);
});

test('more pictures than there is room for are counted, every visit before a second photo of one', () => {
  const many = labels(
    ...[0, 1, 2].map(
      (i): Visit => ({ start: 10 + 30 * i, end: 30 + 30 * i, type: 'animal', name: `bird ${i}` }),
    ),
  );
  const { taken } = shotsOf(judgedAt([12, 16, 20, 42, 72], many), many, times, 3);
  expect(taken.shots.map((shot) => shot.trigger)).toEqual([12, 42, 72]);
  expect(taken.more).toBe(2);
});
