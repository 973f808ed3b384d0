import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { commandIn } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'replay-'));
afterAll(() => rmSync(folder, { recursive: true }));

it('replay is no wider than 80 columns, with one clip and with several', async () => {
  const frames = drawFrames(
    40,
    (k) => (k > 20 ? { x: 2 * k - 40, y: 20, size: 8, level: 180 } : null),
    'wide',
  );
  const labels = { version: 1, visits: [{ start: 4, end: 6 }] } as const;
  for (const name of ['hedge', 'log-pile']) await writeClip(join(folder, name), frames, labels);
  writeFileSync(join(folder, 'camera.json'), JSON.stringify(smallCamera));
  writeFileSync(
    join(folder, 'settings.json'),
    JSON.stringify({ version: 1, threshold: 18, minimumArea: 16, cooldown: 1 }),
  );
  for (const clips of [['hedge'], ['hedge', 'log-pile']]) {
    const { code, out, err } = await commandIn(folder)(
      'replay',
      ...clips,
      '--camera',
      'camera.json',
      '--settings',
      'settings.json',
    );
    expect({ code, err }).toMatchObject({ code: 0 });
    expect(out).toMatch(/visits caught +\d+ of 1/);
    expect(out.split('\n').filter(({ length }) => length > 80)).toEqual([]);
  }
});

it('replay tells a short visit with its tenths, and of a clip without labels no columns that hold nothing', async () => {
  const frames = drawFrames(20, () => null, 'still');
  const labels = { version: 1, visits: [{ start: 1.2, end: 1.8, name: 'wren' }] } as const;
  await writeClip(join(folder, 'short'), frames, labels);
  await writeClip(join(folder, 'bare'), frames, null);
  writeFileSync(join(folder, 'small.json'), JSON.stringify(smallCamera));
  writeFileSync(
    join(folder, 'set.json'),
    JSON.stringify({ version: 1, threshold: 18, minimumArea: 16, cooldown: 1 }),
  );
  const replayed = (clip: string) =>
    commandIn(folder)('replay', clip, '--camera', 'small.json', '--settings', 'set.json');
  expect((await replayed('short')).out).toMatch(/missed 1 visit:\n +0:01\.2-0:01\.8 wren/);
  const { out } = await replayed('bare');
  expect(out).toMatch(/Not scored/);
  expect(out).not.toMatch(/ - /);
  expect(out).not.toMatch(/visits caught/);
});
