import { describe, expect, it } from 'vitest';
import { changesText, leftText } from '../../src/words/fleet-wording.js';

describe('what changed at the sites of a fleet', () => {
  it('is counted, those to look at first', () => {
    const sites = ['same', 'worse', null, 'same', 'changed', 'worse'].map((change) => ({ change }));
    expect(changesText(sites)).toBe('2 worse, 1 changed both ways, 2 the same, 1 not told.');
    expect(changesText([])).toBe('No site was submitted yet.');
  });
});

describe('what is left', () => {
  it.each([
    [{ jobs: 3, ended: 3, running: 0, secondsLeft: 0 }, 'done'],
    [{ jobs: 3, ended: 1, running: 0, secondsLeft: null }, '2 of 3 jobs'],
    [{ jobs: 1, ended: 0, running: 1, secondsLeft: 89.2 }, '1 of 1 job, about 90 s'],
    [{ jobs: 3, ended: 1, running: 2, secondsLeft: 91 }, '2 of 3 jobs, about 2 min'],
    [{ jobs: 3, ended: 1, running: 2, secondsLeft: 9000 }, '2 of 3 jobs, about 2.5 h'],
  ])('%j: %s', (progress, text) => {
    expect(leftText(progress)).toBe(text);
  });
});
