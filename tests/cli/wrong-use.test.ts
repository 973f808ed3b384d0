import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { drawFrames, writeClip } from '../support/clips.js';
import { commandIn } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'wrong-use-'));
const perchmark = commandIn(folder);
beforeAll(async () => {
  const frames = drawFrames(20, () => null, 'wrong use');
  await writeClip(join(folder, 'clip'), frames, null);
  writeFileSync(
    join(folder, 'settings.json'),
    '{ "version": 1, "threshold": 24, "minimumArea": 50, "cooldown": 10 }',
  );
});
afterAll(() => rmSync(folder, { recursive: true }));

it.each([
  [
    'an option given twice',
    ['replay', 'clip', '--settings', 'settings.json', '--settings', 'other.json'],
    '--settings: expected once, found settings.json and other.json; leave one of them out',
  ],
  [
    'a file of a clip',
    ['replay', 'clip/clip.json', '--settings', 'settings.json'],
    'clip/clip.json: expected the folder of a clip, found a file of one; name clip instead',
  ],
  [
    'a verb that is several, by itself',
    ['labels'],
    "labels: expected one of export, import, found none; 'perchmark labels --help' tells what they do",
  ],
  [
    'a verb that is several, with none of them',
    ['labels', 'nosuch'],
    "labels: expected one of export, import, found nosuch; 'perchmark labels --help' tells what they do",
  ],
  ['help about no verb', ['help', 'nosuch'], "unknown command 'nosuch'"],
  [
    'the queue, by itself',
    ['fleet'],
    "fleet: expected one of submit, work, status, found none; 'perchmark fleet --help' tells what they do",
  ],
  [
    'a report where --write may put a card',
    ['tune', 'clip', '--write', 'set/today', '--report', 'set/today/site-card.html'],
    '--report set/today/site-card.html: files that --write puts into set/today end in -card.html; choose another name or another folder',
  ],
])('%s is refused in one line', async (_, args, said) => {
  expect(await perchmark(...args)).toEqual({ code: 2, out: '', err: `perchmark: ${said}\n` });
});

it.each([
  [['tune', 'clip', '--photos-per-day', '0x10', '--hours-out', '16'], 'Expected a number from 0 to 1000000.'],
  [['size', 'clip', '--length', '0b11', '--distance', '2'], 'Expected a number of centimetres'],
  [['tune', 'clip', '--false-per-hour', '1e-300'], 'Expected 0, or a number from 0.0001 to 1000000.'],
  [['plan', 'clip', '--false-per-hour', '0.00001'], 'Expected 0, or a number from 0.0001 to 1000000.'],
])('a number that nobody means is refused: %j', async (args, said) => {
  const { code, err } = await perchmark(...args);
  expect(code).toBe(2);
  expect(err).toContain(said);
});

it('a folder that was made to write into is gone where nothing was, one that was there stays', async () => {
  mkdirSync(join(folder, 'there'));
  for (const dir of ['there/new/set', 'there']) {
    const { code } = await perchmark('tune', 'clip', '--write', dir);
    expect(code).toBe(2);
  }
  expect(readdirSync(join(folder, 'there'))).toEqual([]);
});

it.each([
  [['help', 'help'], ['help']],
  [
    ['help', 'labels', 'export'],
    ['labels', 'export', '--help'],
  ],
])('%j is answered as %j', async (asked, as) => {
  const answer = await perchmark(...as);
  expect(answer.code).toBe(0);
  expect(answer.out).not.toBe('');
  expect(await perchmark(...asked)).toEqual(answer);
});
