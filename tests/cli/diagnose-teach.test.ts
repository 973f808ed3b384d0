import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { commandIn } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'teach-'));
const by = ['--camera', 'camera.json', '--settings', 'now.json'];
const perchmark = commandIn(folder);

beforeAll(async () => {
  // A patch goes to and fro for two seconds, three times in each of nine half minutes and more.
  const frames = drawFrames(
    9 * 160,
    (k) => (k % 160 < 60 && k % 20 < 10 ? { x: k % 2 ? 2 : 6, y: 38, size: 8, level: 60 } : null),
    'teach',
  );
  const labels = { version: 1, visits: [] };
  await writeClip(join(folder, 'untold'), frames, labels);
  // None of which the model as it came would say.
  const causes = [{ start: 0, end: 288, cause: 'shadow' }];
  await writeClip(join(folder, 'told'), frames, { ...labels, causes });
  await writeClip(join(folder, 'hardly'), frames, { ...labels, causes: [{ ...causes[0], end: 40 }] });
  writeFileSync(join(folder, 'camera.json'), JSON.stringify(smallCamera));
  const now = { version: 1, threshold: 18, minimumArea: 16, cooldown: 1 };
  writeFileSync(join(folder, 'now.json'), JSON.stringify(now));
});
afterAll(() => rmSync(folder, { recursive: true }));

async function causesOf(...args: string[]) {
  const { code, out } = await perchmark('diagnose', ...args, ...by, '--json');
  expect(code).toBe(0);
  const { falseTriggers, taught } = JSON.parse(out);
  return { causes: new Set(falseTriggers.map(({ cause }: { cause: string }) => cause)), taught };
}

it('says what the owner told it where that holds on time left out', async () => {
  const before = await causesOf('told');
  expect(before.causes).not.toContain('shadow');
  expect(before).not.toHaveProperty('taught.0');
  const { causes, taught } = await causesOf('told', '--teach');
  expect(taught).toMatchObject([{ clips: ['told'], bouts: 9, verdict: 'better' }]);
  expect([...causes]).toEqual(['shadow']);
});

it('says in text and on the page that it is too little to tell, and changes nothing', async () => {
  const { code, out } = await perchmark('diagnose', 'hardly', ...by, '--teach', '--report', 'report.html');
  expect(code).toBe(0);
  expect(out).toContain('Too little to tell whether your corrections help');
  expect(readFileSync(join(folder, 'report.html'), 'utf8')).toContain('Too little to tell whether');
  expect((await causesOf('hardly', '--teach')).causes).toEqual((await causesOf('hardly')).causes);
});

it('where nothing was told it says so', async () => {
  const { taught } = await causesOf('untold', '--teach');
  expect(taught).toMatchObject([{ told: 0, verdict: 'too little to tell', judged: null }]);
});
