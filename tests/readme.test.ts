import { execFileSync } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../', import.meta.url));
const developers = readFileSync(join(root, 'DEVELOPERS.md'), 'utf8');
/** A folder of somebody's own in which the package is installed. */
const dir = mkdtempSync(join(tmpdir(), 'perchmark-readme-'));
afterAll(() => rmSync(dir, { recursive: true }));

/** The code block that follows a marker. */
function block(marker: string): string {
  const after = developers.split(`<!-- ${marker} -->`)[1] ?? '';
  return /```\w*\n(.*?)```/s.exec(after)?.[1] ?? '';
}

it('the example of DEVELOPERS prints what DEVELOPERS says', () => {
  mkdirSync(join(dir, 'node_modules'));
  symlinkSync(root, join(dir, 'node_modules', 'perchmark'));
  cpSync(join(root, 'clips'), join(dir, 'clips'), { recursive: true });
  writeFileSync(join(dir, 'example.mjs'), block('example'));
  const printed = execFileSync(process.execPath, ['example.mjs'], {
    cwd: dir,
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  expect(printed).toBe(block('example output'));
  expect(printed).not.toBe('');
});

it.each(['README.md', 'DEVELOPERS.md'])('every link of %s leads to a file', (name) => {
  const text = readFileSync(join(root, name), 'utf8');
  const links = [...text.matchAll(/\]\(([^)#]+)[^)]*\)/g)].map(([, path]) => path ?? '');
  const files = links.filter((path) => !path.startsWith('http'));
  expect(files.length).toBeGreaterThan(0);
  expect(files.filter((path) => !existsSync(join(root, path)))).toEqual([]);
});
