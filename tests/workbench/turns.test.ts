import { expect, it } from 'vitest';
import { Turns } from '../../src/workbench/turns.js';

/** A job that ends when told to, and what was said while it waited. */
function job(turns: Turns, what: string, signal?: AbortSignal) {
  const said: string[] = [];
  let end = (): void => undefined;
  const ended = new Promise<void>((done) => {
    end = done;
  });
  let begun = false;
  const ports = { onPhase: (phase: string) => said.push(phase), ...(signal && { signal }) };
  const taken = turns.take(what, ports, async () => {
    begun = true;
    await ended;
    return what;
  });
  return { taken, end, said, begun: () => begun };
}

const settled = () => new Promise((done) => setImmediate(done));

it('lets heavy jobs in one after the other, and says what is waited for', async () => {
  const turns = new Turns();
  const [a, b, c] = [job(turns, 'a'), job(turns, 'b'), job(turns, 'c')];
  await settled();
  expect([a, b, c].map(({ begun }) => begun())).toEqual([true, false, false]);
  expect([a.said, b.said]).toEqual([[], ['waiting for another job to end: a']]);
  a.end();
  expect(await a.taken).toBe('a');
  await settled();
  expect([b.begun(), c.begun()]).toEqual([true, false]);
  b.end();
  c.end();
  expect(await c.taken).toBe('c');
});

it('goes on after a job that failed', async () => {
  const turns = new Turns();
  const failing = turns.take('a', { onPhase: () => undefined }, async () => {
    throw new Error('broken');
  });
  const next = job(turns, 'b');
  await expect(failing).rejects.toThrow('broken');
  next.end();
  expect(await next.taken).toBe('b');
});

it('forgets who gave up waiting', async () => {
  const turns = new Turns();
  const stop = new AbortController();
  const [a, b, c] = [job(turns, 'a'), job(turns, 'b', stop.signal), job(turns, 'c')];
  stop.abort(new Error('gone'));
  await expect(b.taken).rejects.toThrow('gone');
  a.end();
  c.end();
  expect(await c.taken).toBe('c');
  expect(b.begun()).toBe(false);
  await expect(job(turns, 'd', stop.signal).taken).rejects.toThrow('gone');
});
