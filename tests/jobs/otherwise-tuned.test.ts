import { describe, expect, it } from 'vitest';
import { otherwiseTuned } from '../../src/jobs/plan/otherwise-tuned.js';
import { grid } from '../tune/swept.js';

describe('a plan that differs from what tune advises', () => {
  it('says in which dials, and why', () => {
    expect(otherwiseTuned(1, 3, grid, { kind: 'worth' })).toEqual([
      expect.stringMatching(
        /sensitivity 4 \(not 2\) is advised, perhaps for each clip counts there by its length/,
      ),
    ]);
    expect(otherwiseTuned(1, 3, grid, { kind: 'allowance' })).toEqual([
      expect.stringMatching(
        /sensitivity 4 \(not 2\) is advised, perhaps for the allowance is kept there over all clips together/,
      ),
    ]);
  });

  it('has nothing to say where they are one', () => {
    expect(otherwiseTuned(2, 2, grid, { kind: 'worth' })).toEqual([]);
  });
});
