import { expect, test } from 'vitest';
import { diagnosisText } from '../../src/cli/diagnose-text.js';
import type { Diagnosis } from '../../src/diagnose/diagnosis.js';
import { cures, diagnosis, logPile, quiet, unlabelled } from '../report/diagnosis-example.js';
import { present } from '../report/diagnosis-shown.js';

/** Without folds, so that a sentence can be looked for. */
const told = (given: Diagnosis) => diagnosisText(given, present).replace(/\s+/g, ' ');
const only = (clip: Diagnosis['clips'][number]): Diagnosis => ({ clips: [clip], cures: [], notes: [] });

test('a clip begins with how often it fired falsely and the likely causes', () => {
  expect(told(diagnosis)).toMatch(
    /^log-pile-gusty: fired falsely 13 times\. Wind in vegetation 9, insect near the lens 2, rain 1, unknown 1\./,
  );
});

test('the table counts each cause, with its share, place, first time and busiest minute', () => {
  expect(told(diagnosis)).toContain('wind in vegetation 9 69 % (46–85) lower left 1:02 1:00-2:00 (5)');
});

test('the surest trigger of each cause is an example, with its evidence', () => {
  expect(told(diagnosis)).toContain(
    '3:34.0 wind in vegetation, 93 %. The same patch has changed 41 times at about 1.3 Hz and returns to where it was.',
  );
  expect(told(diagnosis)).toContain('4 of 13; --json and --report list all');
});

test('missed visits come with the reason, what would have caught them and its price', () => {
  const text = told(diagnosis);
  expect(text).toContain('Missed 3 of 5 visits: 0:10-0:16 wood mouse: too faint.');
  expect(text).toContain('Caught with sensitivity 8 instead of 6: 14 more false triggers');
  expect(text).toContain('2:30-2:31 an animal: gone before the photo.');
});

test('cures come in the order given, with their effect on both halves, a mask ready to paste', () => {
  const text = told(diagnosis);
  expect(text.indexOf('1. Mask the corner')).toBeLessThan(text.indexOf('2. Turn sensitivity from 6 to 5'));
  expect(text).toContain('on all of it 9 of 13 false triggers gone, 0 of 2 visits lost, 1 more caught');
  expect(text).toContain('on the other half 4 of 6 gone, 67 % (35–88); 0 of 1 lost, 0 % (0–73)');
  expect(text).toContain('"mask": [[[0,0.58], [0.18,0.58], [0.27,1], [0,1]]]');
});

test('what rests on the model, what is exact and what is common practice is told apart', () => {
  const text = told(diagnosis);
  expect(text).toContain('put down by a model that learnt on drawn scenes');
  expect(text).toContain('Missed visits and cures are no model’s work');
  expect(text).toContain('Common practice of the trade, not measured');
});

test('a clip without labels is explained, and what cannot be told is said', () => {
  const text = told(only(unlabelled));
  expect(text).toMatch(/^compost-heap-dusk: fired 13 times\./);
  expect(text).toContain('nothing tells which of these triggers were false');
  expect(text).not.toMatch(/falsely|false trigger|Missed \d|What would help/);
});

test('where nothing was false that is said, and no advice is given', () => {
  const text = told(only(quiet));
  expect(text).toContain('never fired falsely');
  expect(text).not.toMatch(/likely cause|common practice/i);
});

test('what was not tried or did not hold is said, with cures and without', () => {
  const notes = ['Masks were not tried.'];
  expect(told({ ...diagnosis, notes })).toContain('Masks were not tried.');
  expect(told({ ...diagnosis, cures: [], notes })).toContain('What would help Masks were not tried.');
});

test('several clips that fired falsely are counted together', () => {
  const twice = told({ clips: [logPile, { ...logPile, clip: 'again' }], cures, notes: [] });
  expect(twice).toContain('All clips together, 26 explained. Wind in vegetation 18,');
});

test('no line is wider than a terminal', () => {
  const prose = diagnosisText(diagnosis, present)
    .split('\n')
    .filter((line) => line.length > 96);
  expect(prose).toEqual([]);
});

test('a clip that weather was put onto is marked', () => {
  expect(told(only({ ...logPile, simulated: true }))).toMatch(/^log-pile-gusty \(simulated\): fired falsely/);
});
