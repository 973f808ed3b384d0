import { expect, it } from 'vitest';
import { LastFew } from '../../../src/workbench/page/worker/last-few.js';
import { NewestOnly } from '../../../src/workbench/page/worker/newest.js';

it('of what is asked while an answer is awaited only the newest is asked', async () => {
  const asked: number[] = [];
  const answers: (() => void)[] = [];
  const newest = new NewestOnly((question: number) => {
    asked.push(question);
    return new Promise<number>((tell) => answers.push(() => tell(10 * question)));
  });
  const told = [1, 2, 3, 4].map((question) => newest.answer(question));
  expect(asked).toEqual([1]);
  answers[0]!();
  await expect.poll(() => asked).toEqual([1, 4]);
  answers[1]!();
  expect(await Promise.all(told)).toEqual([10, null, null, 40]);
});

it('a question that fails is told of, and the next is asked', async () => {
  const newest = new NewestOnly(async (question: string) => {
    if (question === 'bad') throw new Error('no');
    return question;
  });
  const [first, second] = [newest.answer('bad'), newest.answer('good')];
  await expect(first).rejects.toThrow('no');
  expect(await second).toBe('good');
});

it('the last few answers are kept, those asked for again longer', () => {
  const few = new LastFew<number>(2);
  few.keep('a', 1);
  few.keep('b', 2);
  expect(few.get('a')).toBe(1);
  few.keep('c', 3);
  expect([few.get('a'), few.get('b'), few.get('c')]).toEqual([1, undefined, 3]);
});
