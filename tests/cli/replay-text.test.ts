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
