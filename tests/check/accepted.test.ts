import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { Problem } from '../../src/base/problem.js';
import { type Accepted, acceptedText, readAccepted, writeAccepted } from '../../src/check/accepted.js';
import { clip, results, triggers, visit } from './made.js';

const dir = mkdtempSync(join(tmpdir(), 'accepted-'));
const file = join(dir, 'suite.accepted.json');
afterAll(() => rmSync(dir, { recursive: true }));

const windy = clip('windy', [visit(1 / 3, false)], triggers('ignored', 0.1 + 0.2));
const { controls: _, ...given } = results(
  windy,
  clip('calm', [visit(10, true, 'wren'), visit(20, true)], triggers('false', 50, 60)),
);
const accepted: Accepted = {
  ...given,
  why: 'a larger bowl',
  brokenLimits: [{ clip: null, limit: 'recall', bound: 0.9, value: 2 / 3 }],
};
accepted.settings.mask = [
  [
    [0, 0],
    [0.4, 0],
    [0.4, 1],
  ],
];

it('what is written is what is read, to the last digit', async () => {
  await writeAccepted(file, accepted);
  const read = await readAccepted(file);
  const plain = ({ clips, ...rest }: Accepted) => ({
    ...rest,
    clips: clips.map(({ clip, pictures, times, labels, mask, visits, triggers }) => ({
      ...{ clip, pictures, times, labels, mask, visits, triggers },
    })),
  });
  expect(read).toEqual(plain({ ...accepted, clips: [accepted.clips[1]!, accepted.clips[0]!] }));
});

it('a visit stands on one line, and so does a trigger', () => {
  const lines = acceptedText(accepted).split('\n');
  expect(lines).toContain('        { "start": 10, "end": 12, "name": "wren", "caught": true },');
  expect(lines).toContain('        { "time": 60, "verdict": "false" }');
  expect(lines.at(-1)).toBe('');
});

it('one visit lost changes one line', () => {
  const [first, calm] = accepted.clips;
  const visits = [{ ...calm!.visits[0]!, caught: false }, calm!.visits[1]!];
  const now = acceptedText({ ...accepted, clips: [first!, { ...calm!, visits }] }).split('\n');
  const was = acceptedText(accepted).split('\n');
  expect(now.length).toBe(was.length);
  expect(now.filter((line, i) => line !== was[i])).toEqual([
    '        { "start": 10, "end": 12, "name": "wren", "caught": false },',
  ]);
});

it('the order of clips in the suite changes no byte', () => {
  expect(acceptedText({ ...accepted, clips: accepted.clips.toReversed() })).toBe(acceptedText(accepted));
});

it('where there are none yet there are none', async () => {
  expect(await readAccepted(join(dir, 'nothing.json'))).toBeNull();
});

it.each<[string, (text: string) => string, RegExp]>([
  ['that are not JSON', (text) => `<<<<<<< ours\n${text}`, /not valid JSON.*expected accepted results/],
  ['without a reason', (text) => text.replace('a larger bowl', ''), /: why: expected at least 1 character,/],
  [
    'with a key that is none',
    (text) => text.replace('aaaa', 'aaa'),
    /clips\[0\]\.pictures: expected a key of 64/,
  ],
  ['with a verdict that is none', (text) => text.replace('"ignored"', '"maybe"'), /triggers\[0\]\.verdict/],
  [
    'with triggers out of order',
    (text) => text.replace('"time": 60', '"time": 40'),
    /clips\[0\]\.triggers: expected triggers in order of time/,
  ],
])('accepted results %s are refused, naming the place', async (_, spoil, message) => {
  writeFileSync(file, spoil(acceptedText(accepted)));
  const reading = readAccepted(file);
  await expect(reading).rejects.toThrow(Problem);
  await expect(reading).rejects.toThrow(message);
  expect(readFileSync(file, 'utf8')).toBe(spoil(acceptedText(accepted)));
});
