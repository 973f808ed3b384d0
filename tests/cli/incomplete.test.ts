import { execFile } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { bin } from '../support/command.js';
import { photoOf } from '../support/photos.js';

// The program as it is installed, but for its cameras, the script of its sheet and the scenes of the demo.
const folder = mkdtempSync(join(tmpdir(), 'incomplete-'));
const home = dirname(dirname(bin));
const program = join(folder, 'program');
afterAll(() => rmSync(folder, { recursive: true }));
beforeAll(async () => {
  mkdirSync(join(program, 'dist'), { recursive: true });
  for (const part of ['bin', 'package.json', 'dist/program']) {
    cpSync(join(home, part), join(program, part), { recursive: true });
  }
  symlinkSync(join(home, 'node_modules'), join(program, 'node_modules'));
  mkdirSync(join(folder, 'photos'));
  writeFileSync(join(folder, 'photos', 'a.jpg'), await photoOf(90, '2026-05-09 06:00:00'));
});

it.each([
  ['a camera that ships', ['budget', '--camera', 'slow-average'], 'dist/camera/shipped/slow-average.json'],
  ['the script of the sheet', ['evening', 'photos'], 'dist/report/sorting/page.js'],
  ["the demo's scenes", ['demo'], 'clips/'],
  ['the page of the workbench', ['open', '.', '--json'], 'dist/workbench/page/index.html'],
])('%s is told as missing of the program, which is its own fault', async (_, args, file) => {
  const { code, said } = await run(args);
  expect({ code, said }).toEqual({
    code: 3,
    said: [
      `perchmark: the program is incomplete: ${join(program, file)} is part of it, and is not there; install the program again`,
    ],
  });
});

it.each([
  ['what it begins with asks for', /from "\.\/(problem-[\w-]+\.js)"/],
  ['a verb is loaded from', /import\("\.\/(tune-[\w-]+\.js)"\)/],
])('and so is a module that %s', async (_, asked) => {
  const main = readFileSync(join(program, 'dist', 'program', 'main.js'), 'utf8');
  const file = join(program, 'dist', 'program', asked.exec(main)![1]!);
  rmSync(file);
  const { code, err } = await run(['tune', 'photos']);
  cpSync(join(home, 'dist', 'program', basename(file)), file);
  expect({ code, err }).toEqual({
    code: 3,
    err: `perchmark: the program is incomplete: ${file} is part of it, and is not there; install the program again\n`,
  });
});

it('and so is what says its version', async () => {
  rmSync(join(program, 'package.json'));
  const { code, said } = await run(['--version']);
  expect(code).toBe(3);
  expect(said[0]).toContain(`${join(program, 'package.json')} is part of it`);
});

function run(args: readonly string[]): Promise<{ code: number | string; said: string[]; err: string }> {
  const env = { ...process.env, PERCHMARK_CACHE: join(folder, 'cache') };
  return new Promise((resolve) => {
    execFile(
      process.execPath,
      [join(program, 'bin', 'perchmark.js'), ...args],
      { cwd: folder, env },
      (error, _, err) => {
        const said = err.split('\n').filter((line) => line.startsWith('perchmark: '));
        resolve({ code: error?.code ?? 0, said, err });
      },
    );
  });
}
