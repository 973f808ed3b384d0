import { expect, test } from 'vitest';
import type { Cure } from '../../src/diagnose/diagnosis.js';
import { changeText, cureText, needsText, onAllText, provedText } from '../../src/words/change-wording.js';
import { cures, logPile, now } from '../report/diagnosis-example.js';
import { present } from '../report/diagnosis-shown.js';

const [mask, dial] = cures as [Cure, Cure];
const needs = (i: number) => needsText(logPile.missed[i]?.needs ?? null, present);

test('a value at a position of a dial is told as the dial stands', () => {
  expect(changeText({ ...now, threshold: 24 }, present)).toBe('sensitivity 8 instead of 6');
});

test('a value between two positions is told as an engine value', () => {
  expect(changeText({ ...now, threshold: 25.5, persistence: 2 }, present)).toBe(
    'threshold 25.5 instead of 40, persistence 2 instead of 1',
  );
});

test('what would have caught a visit comes with its price', () => {
  expect(needs(0)).toBe(
    'Caught with sensitivity 8 instead of 6: 14 more false triggers, 1 other visit gained.',
  );
  expect(needs(2)).toBe('');
});

test('what loses other visits is not put forward', () => {
  expect(needs(1)).toBe(
    'Nothing that was tried catches it without losing others: cooldown 2 instead of 10 would catch it, with 1 fewer false trigger, 1 visit lost.',
  );
});

test('less masked is said where that would have caught a visit', () => {
  const covered = { ...present, mask: mask.settings.mask ?? [] };
  const { warnings: _, ...values } = now;
  expect(changeText({ ...values, mask: [] }, covered)).toBe('less masked');
});

test('cures are told as something to do', () => {
  expect(cureText(mask, present)).toMatch(/^Mask the corner at the lower left \(a polygon of 4 corners/);
  expect(cureText(dial, present)).toBe('Turn sensitivity from 6 to 5');
  expect(
    cureText(
      {
        ...dial,
        kind: 'persistence',
        turn: null,
        settings: { ...dial.settings, ...now, version: 1, persistence: 4 },
      },
      present,
    ),
  ).toBe('Set persistence 4 instead of 1');
});

test('of a mask only what is new is told', () => {
  const inForce: [number, number][] = [
    [0.5, 0],
    [1, 0],
    [1, 0.2],
  ];
  const both = { ...mask, settings: { ...mask.settings, mask: [inForce, ...(mask.settings.mask ?? [])] } };
  expect(cureText(both, { ...present, mask: [inForce] })).not.toContain('upper right');
});

test('the effect of a cure is counted, on the other half with intervals', () => {
  expect(onAllText(mask)).toBe('9 of 13 false triggers gone, 0 of 2 visits lost, 1 more caught');
  // Wilson 1927 at 90 %, by hand: 4 of 6 lies within 0.35 and 0.88, 0 of 1 within 0 and 0.73.
  expect(provedText(mask)).toBe('4 of 6 gone, 67 % (35–88); 0 of 1 lost, 0 % (0–73)');
});

test('a share of nothing has no interval', () => {
  const proof = { falseRemoved: 2, falseTriggers: 4, visitsLost: 0, caught: 0 };
  expect(provedText({ ...mask, proof })).toMatch(/; 0 of 0 lost$/);
});
