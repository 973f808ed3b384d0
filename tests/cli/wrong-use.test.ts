import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
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
])('%s is refused in one line', async (_, args, said) => {
  expect(await perchmark(...args)).toEqual({ code: 2, out: '', err: `perchmark: ${said}\n` });
});
