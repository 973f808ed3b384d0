import { expect, it } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import type { TuneResult } from '../../src/jobs/tune.js';
import { Answers } from '../../src/workbench/answers.js';

const answer = {
  result: { sites: [] } as unknown as TuneResult,
  clips: [],
  camera: defaultCamera,
  hoursOut: 8,
};

it('a page that outlives its server is given no other answer for its own', () => {
  const [before, after] = [new Answers(), new Answers()];
  const id = before.keep(answer);
  after.keep(answer);
  expect(() => after.files(id, 'report', {} as never)).toThrow('this answer is not kept any more; ask again');
});

it('keeps the last four', () => {
  const answers = new Answers();
  const ids = Array.from({ length: 5 }, () => answers.keep(answer));
  expect(() => answers.files(ids[0]!, 'report', {} as never)).toThrow('not kept any more');
  expect(answers.files(ids[1]!, 'report', {} as never)).toHaveLength(1);
});
