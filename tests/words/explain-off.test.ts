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
    /^What is simulated rests on no recording.*between 0\.2 and 2 times as often as simulated at Beaufort 6 \(here 6 to 360 an hour, where 31 is told\)\.$/,
  );
  expect(of({ holds: true })).toMatch(/The advice for wind holds at either end of that\.$/);
  expect(of({ holds: false })).toMatch(/would be another: record a clip in it before you rely on it\.$/);
});

it('says where that was not tried, and nothing of what fires as often as it can', () => {
  expect(of({ strengths: [{ strength: 9, recall: 0.5, falsePerHour: 31, range: null }] })).toBe(
    'How far off it may be is not known of Beaufort 9.',
  );
  expect(of({}, 355)).toBe('');
  expect(of({ strengths: [{ strength: 6, recall: 0.5, falsePerHour: null, range: null }] })).toBe('');
  expect(of({ strengths: [] })).toBe('');
});
