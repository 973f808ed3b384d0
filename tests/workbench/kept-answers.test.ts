import { expect, it } from 'vitest';
import { KeptAnswers } from '../../src/workbench/kept-answers.js';

/** Asks under keys one after the other; says which were worked out. */
async function worked(kept: KeptAnswers<string>, keys: string): Promise<string> {
  let all = '';
  for (const key of keys) {
    const answer = await kept.of(key, async () => {
      all += key;
      return key;
    });
    expect(answer).toBe(key);
  }
  return all;
}

it('an answer is worked out once, until others asked for later have taken its place', async () => {
  expect(await worked(new KeptAnswers(2), 'aaba')).toBe('ab');
  expect(await worked(new KeptAnswers(2), 'abacab')).toBe('abcb');
});

it('nothing is kept of what fails or was stopped', async () => {
  const kept = new KeptAnswers<string>(2);
  await expect(kept.of('a', () => Promise.reject(new Error('stopped')))).rejects.toThrow('stopped');
  expect(await worked(kept, 'a')).toBe('a');
});
