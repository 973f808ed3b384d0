import { expect, test } from 'vitest';
import { againstText } from '../../src/cli/against-text.js';
import type { AgainstResult, TriggerOfOne } from '../../src/diagnose/against/against.js';

const fired = (time: number, firedBy: 'these' | 'other', why: TriggerOfOne['why']): TriggerOfOne => ({
  time,
  verdict: 'false',
  firedBy,
  why,
  evidence: `what was seen at ${time}`,
});
const result: AgainstResult = {
  clip: 'log-pile',
  both: { triggers: 12, visits: 7 },
  triggers: [
    { ...fired(20, 'these', 'busy'), verdict: 'true' },
    fired(30, 'other', 'threshold'),
    fired(40, 'other', 'minimum area'),
    fired(50, 'other', 'threshold'),
  ],
  visits: [
    {
      visit: 1,
      start: 18,
      end: 22,
      name: 'wren',
      caughtBy: 'these',
      why: 'cooldown',
      evidence: 'it was busy until 0:25',
    },
  ],
};
const names = { these: 'now.json', other: 'then.json' };
const told = (results: AgainstResult[]) => againstText(results, names).replace(/\s+/g, ' ');

test('counts come first: what both do alike, and what each does alone', () => {
  expect(told([result])).toMatch(
    /^log-pile: now\.json against then\.json triggers of them false visits caught both alike 12 7 only now\.json 1 0 1 only then\.json 3 3 0 /,
  );
});

test('a visit that one alone catches is told with why the other misses it', () => {
  expect(told([result])).toContain(
    'Caught by now.json alone; why then.json misses them 0:18-0:22 wren: the camera was busy. It was busy until 0:25.',
  );
});

test('triggers of one alone are counted by why the other does not fire, the commonest reason first', () => {
  expect(told([result])).toContain(
    'Fired by then.json alone 3 times; why now.json does not: too faint 2, too small 1 0:30.0 nothing; too faint. What was seen at 30.',
  );
  expect(told([result])).toContain('2 of 3; --json lists all');
});

test('where both do the same that is said', () => {
  expect(told([{ ...result, triggers: [], visits: [] }])).toBe(
    'log-pile: now.json against then.json They do the same here: 12 triggers, 7 visits caught.',
  );
});

test('without labels triggers have no verdict', () => {
  const bare = { ...result, visits: [], triggers: [{ ...fired(20, 'these', 'busy'), verdict: null }] };
  expect(told([bare])).toContain('0:20.0 the camera was busy. What was seen at 20.');
});
