import { execFile } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { drawFrames, writeClip } from '../support/clips.js';
import { bin } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'add-stopped-'));
afterAll(() => rmSync(folder, { recursive: true }));

it('stopped between the clip and the project that names it, it enters the clip first and says that it is there', async () => {
  await writeClip(
    join(folder, 'clip'),
    drawFrames(10, () => null, 'stopped'),
    { version: 1, visits: [] },
  );
  // Somebody else seems to be writing the project, so that this one has to wait with the clip made.
  const other = join(folder, '.perchmark.json.00000000.1.000000000000.partial');
  writeFileSync(other, '');
  const ended = await new Promise<{ code: unknown; err: string }>((done) => {
    const env = { ...process.env, PERCHMARK_CACHE: join(folder, 'cache') };
    const args = [bin, 'add', 'clip/frames', 'pile', '--rate', '5', '--site', 'log pile', '--project'];
    const child = execFile(process.execPath, args, { env, cwd: folder }, (error, _, err) =>
      done({ code: error?.code, err }),
    );
    const watching = setInterval(() => {
      if (!existsSync(join(folder, 'pile'))) return;
      clearInterval(watching);
      child.kill('SIGINT');
      setTimeout(() => rmSync(other), 300);
    }, 10);
  });
  expect(ended).toEqual({
    code: 130,
    err: expect.stringMatching(/^perchmark: stopped; pile was made already, whole\n$/),
  });
  expect(JSON.parse(readFileSync(join(folder, 'perchmark.json'), 'utf8')).sites).toEqual([
    { site: 'log pile', clips: ['pile'] },
  ]);
  expect(readdirSync(folder).filter((name) => name.endsWith('.partial'))).toEqual([]);
});
