import { expect, it } from 'vitest';
import type { SiteResult } from '../../src/jobs/tune.js';
import { explainOff } from '../../src/words/explain-off.js';
import { tuned } from '../report/example.js';

const times = { low: 0.2, high: 2 };
const of = (rest: object, falsePerHour = 31) =>
  explainOff({
    ...tuned,
    byCondition: [
      {
        condition: 'wind',
        clips: ['a'],
        source: 'simulated',
        choice: tuned.recommended,
        strengths: [{ strength: 6, recall: 0.5, falsePerHour, range: { low: 6, high: 400, times } }],
        ...rest,
      } as unknown as SiteResult['byCondition'][number],
    ],
  }).join('\n');

it('tells between which rates a simulated one lies, no more than the cooldown lets be, and whether the advice holds there', () => {
  expect(of({})).toMatch(
    /^No recording of such weather is in what is simulated.*between 0\.2 and 2 times as often as simulated at Beaufort 6 \(here 6 to 360 an hour, where 31 is told\)\.$/,
  );
  expect(of({ holds: true })).toMatch(
    /The advice for wind holds at either end of that, were all settings off alike\.$/,
  );
  expect(of({ holds: false })).toMatch(
    /would be another, or break what is allowed: record a clip in it before you rely on it\.$/,
  );
});

it('says where that was not tried, and nothing of what fires as often as it can', () => {
  expect(of({ strengths: [{ strength: 9, recall: 0.5, falsePerHour: 31, range: null }] })).toBe(
    'How far off it may be is not known of Beaufort 9.',
  );
  expect(of({}, 355)).toBe('');
  expect(of({ strengths: [{ strength: 6, recall: 0.5, falsePerHour: null, range: null }] })).toBe('');
  expect(of({ strengths: [] })).toBe('');
});

it('says that an advice holds only where a range was told, and right behind it', () => {
  expect(of({ holds: true }, 355)).toBe('');
  const low = { strength: 20, recall: 0.5, falsePerHour: 3, range: null };
  expect(of({ holds: true, strengths: [low] })).toBe('How far off it may be is not known of Beaufort 20.');
  const near = { strength: 6, recall: 0.5, falsePerHour: 31, range: { low: 6, high: 400, times } };
  expect(of({ holds: true, strengths: [near, low] })).toMatch(
    /The advice for wind holds at either end.*\nHow far off it may be is not known of Beaufort 20\.$/,
  );
});

it('says where too few triggers were simulated', () => {
  const few = { strength: 6, recall: 0.5, falsePerHour: 20, range: null, tooFew: true };
  expect(of({ holds: null, strengths: [few] })).toBe(
    'Too few simulated triggers to tell how far off it may be: Beaufort 6.',
  );
});

it('says in which rain it was measured beside another', () => {
  const inRain = (strength: number) =>
    of({
      condition: 'rain',
      strengths: [{ strength, recall: 0.5, falsePerHour: 31, range: { low: 6, high: 400, times } }],
    });
  expect(inRain(2)).toContain('at 2 mm/h (drawn in 4 mm/h; here 6 to 360 an hour');
  expect(inRain(4)).toContain('at 4 mm/h (here 6 to 360 an hour');
});
