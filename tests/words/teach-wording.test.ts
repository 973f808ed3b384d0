import { expect, it } from 'vitest';
import type { Taught } from '../../src/diagnose/diagnosis.js';
import { taughtText } from '../../src/words/teach-wording.js';

const taught: Taught = {
  site: 'log pile',
  clips: ['a'],
  triggers: 50,
  told: 40,
  bouts: 12,
  needed: { told: 20, bouts: 8 },
  verdict: 'better',
  judged: {
    how: 'leave one clip out',
    right: {
      shipped: { value: 0.5, low: 0.37, high: 0.63, n: 40 },
      taught: { value: 0.9, low: 0.8, high: 0.95, n: 40 },
    },
    logLoss: { shipped: 1.234, taught: 0.456, gained: { value: 0.778, low: -0.02, high: 1.1 } },
  },
  changed: 1,
};

it('what helps is told with its figures, and to tell it of right causes too', () => {
  const text = taughtText(taught);
  expect(text).toContain('it learnt from 40 of 50 false triggers at the log pile, in 12 bunches');
  expect(text).toContain(
    'On clips that were left out it named the cause you told in 90 % (80–95) instead of 50 % (37–63)',
  );
  expect(text).toContain('log loss 0.46 instead of 1.2, less by 0.78 (-0.02 to 1.1)');
  expect(text).toContain('1 trigger has another cause now');
  expect(text).toContain('tell it of causes that were right as well');
});

it('what does not help is not used', () => {
  const text = taughtText({ ...taught, site: null, verdict: 'no better', changed: 0 });
  expect(text).toContain('it learnt from 40 of 50 false triggers, in 12 bunches');
  expect(text).toContain('that may be chance. So it is not used.');
});

it('too little says how many are needed', () => {
  const text = taughtText({ ...taught, told: 3, bouts: 1, verdict: 'too little to tell', judged: null });
  expect(text).toMatch(/^Too little to tell.*3 of 50 .* in 1 bunch; 20 in 8 bunches are needed/);
});
