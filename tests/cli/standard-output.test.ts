import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { bin, processIn } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'standard-output-'));
const perchmark = processIn(folder);
beforeAll(async () => {
  await writeClip(
    join(folder, 'clip'),
    drawFrames(20, () => null, 'standard output'),
    null,
  );
  writeFileSync(join(folder, 'camera.json'), JSON.stringify(smallCamera));
  writeFileSync(
    join(folder, 'settings.json'),
    '{ "version": 1, "threshold": 18, "minimumArea": 16, "cooldown": 1 }',
  );
});
afterAll(() => rmSync(folder, { recursive: true }));

it('may be a pipe that nobody reads to its end, however much is to come', async () => {
  const child = spawn(process.execPath, [bin, 'schema', 'tune']);
  let err = '';
  child.stderr.on('data', (piece) => {
    err += piece;
  });
  child.stdout.once('data', () => child.stdout.destroy());
  const code = await new Promise((ended) => child.once('close', ended));
  expect({ code, err }).toEqual({ code: 0, err: '' });
});

it('comes out whole, however late it is read', async () => {
  const child = spawn(process.execPath, [bin, 'schema', 'tune']);
  const pieces: Buffer[] = [];
  await new Promise((filled) => child.stdout.once('readable', filled));
  for await (const piece of child.stdout) pieces.push(piece);
  expect(() => JSON.parse(Buffer.concat(pieces).toString())).not.toThrow();
});

it('holds the document of --json alone: a report cannot go there too', async () => {
  const given = ['clip', '--camera', 'camera.json', '--settings', 'settings.json'];
  const both = await perchmark('replay', ...given, '--json', '--report', '/dev/stdout');
  expect(both).toMatchObject({ code: 2, out: '' });
  expect(both.err).toBe(
    'perchmark: --report /dev/stdout: with --json standard output holds the JSON document alone; name a file\n',
  );
});
