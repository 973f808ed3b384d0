import { expect, it } from 'vitest';
import { OneAtATime } from '../../src/workbench/one-at-a-time.js';

/** A job that ends when it is told to. */
function job() {
  let end = () => {};
  const ended = new Promise<void>((done) => {
    end = done;
  });
  return {
    end,
    run: async (into: string[], name: string) => {
      into.push(name);
      await ended;
      return name;
    },
  };
}

it('runs one job, lets as many wait as may, and refuses more', async () => {
  const line = new OneAtATime(1);
  const [began, phases]: [string[], string[]] = [[], []];
  const ports = { onPhase: (phase: string) => phases.push(phase) };
  const [first, second] = [job(), job()];
  const one = line.run(ports, () => first.run(began, 'first'));
  const two = line.run(ports, () => second.run(began, 'second'));
  await expect(line.run(ports, () => second.run(began, 'third'))).rejects.toThrow(/1 wait already/);
  expect([began, phases]).toEqual([['first'], ['waiting for another job to end']]);
  first.end();
  expect(await one).toBe('first');
  await expect.poll(() => began).toEqual(['first', 'second']);
  second.end();
  expect(await two).toBe('second');
});

it('a job that is stopped while it waits never runs, and makes room', async () => {
  const line = new OneAtATime(1);
  const began: string[] = [];
  const [first, third] = [job(), job()];
  const stop = new AbortController();
  const ports = { onPhase: () => undefined };
  const one = line.run(ports, () => first.run(began, 'first'));
  const two = line.run({ ...ports, signal: stop.signal }, () => first.run(began, 'second'));
  stop.abort(new Error('stopped'));
  await expect(two).rejects.toThrow('stopped');
  const three = line.run(ports, () => third.run(began, 'third'));
  first.end();
  third.end();
  expect(await Promise.all([one, three])).toEqual(['first', 'third']);
  expect(began).toEqual(['first', 'third']);
});

it('a job that fails lets the next one run', async () => {
  const line = new OneAtATime(1);
  const ports = { onPhase: () => undefined };
  const failing = line.run(ports, async () => {
    throw new Error('no');
  });
  const next = line.run(ports, async () => 'next');
  await expect(failing).rejects.toThrow('no');
  expect(await next).toBe('next');
});
