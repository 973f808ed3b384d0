import { expect, it } from 'vitest';
import { otherwiseTuned } from '../../../src/jobs/plan/otherwise-tuned.js';
import { explainLimit } from '../../../src/words/explain-limit.js';
import { inOwnWords } from '../../../src/workbench/page/parts/own-words.js';
import { grid } from '../../tune/swept.js';

it('says where on the page all of a short clip is looked through, and no option of the command line', () => {
  const limit = { clip: 'a', visits: 7, inWhole: 9, tells: 'too little', levels: [], leftOut: [] };
  const line = explainLimit({ limit } as unknown as Parameters<typeof explainLimit>[0]).join(' ');
  expect(inOwnWords(line)).toMatch(/All of the clip takes longer: Coming days looks through it\.$/);
});

it('says of other dials that Answer advises them', () => {
  const [line] = otherwiseTuned(0, 1, grid, { kind: 'worth' });
  expect(inOwnWords(line!)).toMatch(/^For all that was recorded, whatever is foretold, Answer advises /);
});
