import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, it } from 'vitest';
import { commandIn } from '../support/command.js';

const root = fileURLToPath(new URL('../../', import.meta.url));
const suiteFile = join('clips', 'suite', 'suite.json');
const folder = mkdtempSync(join(tmpdir(), 'own-suite-'));
afterAll(() => rmSync(folder, { recursive: true }));

const perchmark = commandIn(root, join(folder, 'cache'));

it("the project's own suite gives what was accepted: whatever changes a result is accepted with a reason", async () => {
  const { code, out } = await perchmark('check', suiteFile);
  expect(code, out).toBe(0);
});

it('one notch less sensitive, and every visit lost is named, as replay has it', async () => {
  const notch = { sensitivity: 4, minimumArea: 50, mostChanged: 5000, persistence: 1, cooldown: 5 };
  const settingsAt = (sensitivity: number) => {
    const file = join(folder, `sensitivity ${sensitivity}.json`);
    writeFileSync(file, JSON.stringify({ version: 1, controls: { ...notch, sensitivity } }));
    return file;
  };
  const [now, own] = [settingsAt(4), settingsAt(5)];
  const checked = await perchmark('check', suiteFile, '--against', now, '--json');
  expect(checked.code).toBe(1);
  const names = ['log-pile-breeze', 'water-bowl-shower', 'compost-heap-gusts'];
  const scenes = names.map((name) => join('clips', 'suite', `${name}.json`));
  const replay = async (settings: string) =>
    JSON.parse((await perchmark('replay', ...scenes, '--settings', settings, '--json')).out).clips as {
      visits: { start: number; end: number; caught: boolean }[];
    }[];
  const [is, was] = [await replay(now), await replay(own)];
  const lost = was.map(({ visits }, i) =>
    visits
      .filter(({ caught }, v) => caught && !is[i]!.visits[v]!.caught)
      .map(({ start, end }) => ({ start, end })),
  );
  expect(lost.flat().length).toBeGreaterThanOrEqual(3);
  const named = JSON.parse(checked.out).clips.map((clip: { lost: { start: number; end: number }[] }) =>
    clip.lost.map(({ start, end }) => ({ start, end })),
  );
  expect(named).toEqual(lost);
});
