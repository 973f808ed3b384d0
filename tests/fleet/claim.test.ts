import { describe, expect, it, vi } from 'vitest';
import { Claim } from '../../src/fleet/claim.js';
import type { Hold, Taken } from '../../src/fleet/queue.js';

function answer<T>() {
  let resolve: (value: T) => void = () => undefined;
  let reject: (error: Error) => void = () => undefined;
  const promise = new Promise<T>((yes, no) => {
    resolve = yes;
    reject = no;
  });
  return { promise, resolve, reject };
}

/** A queue whose answers come when the test says so. */
function slowQueue() {
  const answers = {
    take: answer<Taken | null>(),
    hold: answer<Hold | null>(),
  };
  const later = vi.fn(async () => true);
  const release = vi.fn(async () => undefined);
  const taken = { later } as unknown as Taken;
  const hold: Hold = { beat: async () => true, release };
  const queue = { take: vi.fn(() => answers.take.promise), hold: vi.fn(() => answers.hold.promise) };
  return { queue, answers, taken, hold, later, release };
}

describe('what a worker takes from a queue', () => {
  it('goes back where the process ends before the queue has said that it gave it', async () => {
    const { queue, answers, taken, later } = slowQueue();
    const claim = new Claim(queue);
    void claim.take();
    const given = claim.giveBack();
    answers.take.resolve(taken);
    await given;
    expect(later).toHaveBeenCalledExactlyOnceWith(0);
  });

  it('goes back with its clips where the process ends before the queue has said that they are held', async () => {
    const { queue, answers, taken, hold, later, release } = slowQueue();
    const claim = new Claim(queue);
    answers.take.resolve(taken);
    await claim.take();
    void claim.hold(['alder']);
    const given = claim.giveBack();
    answers.hold.resolve(hold);
    await given;
    expect([later.mock.calls.length, release.mock.calls.length]).toEqual([1, 1]);
  });

  it('is nothing more once the process ends', async () => {
    const { queue, answers } = slowQueue();
    const claim = new Claim(queue);
    answers.take.resolve(null);
    await claim.giveBack();
    void claim.take();
    void claim.hold(['alder']);
    expect([queue.take.mock.calls.length, queue.hold.mock.calls.length]).toEqual([0, 0]);
  });

  it('ends the process all the same where the queue refuses to answer', async () => {
    const { queue, answers, release } = slowQueue();
    const claim = new Claim(queue);
    const taking = claim.take();
    answers.take.reject(new Error('gone'));
    await expect(taking).rejects.toThrow('gone');
    await claim.giveBack();
    expect(release).not.toHaveBeenCalled();
  });

  it('lets go of its clips when the job has ended, and keeps the job', async () => {
    const { queue, answers, taken, hold, later, release } = slowQueue();
    const claim = new Claim(queue);
    answers.take.resolve(taken);
    answers.hold.resolve(hold);
    await claim.take();
    await claim.hold(['alder']);
    await claim.end();
    expect([later.mock.calls.length, release.mock.calls.length]).toEqual([0, 1]);
  });
});
