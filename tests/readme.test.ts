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
import { dirname, join } from 'node:path';
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

/** The anchors that a page of Markdown offers: its headings in small letters, hyphens for spaces, without punctuation. */
function anchors(file: string): string[] {
  const headings = readFileSync(file, 'utf8').matchAll(/^#+ (.*)$/gm);
  return [...headings].map(([, heading = '']) =>
    heading
      .toLowerCase()
      .replace(/[^\w -]/g, '')
      .replace(/ /g, '-'),
  );
}

it.each(['README.md', 'DEVELOPERS.md', 'tests/bench/RESULTS.md', 'tests/evaluate/RESULTS.md'])(
  'every link of %s leads to a file, and to a heading of it where one is named',
  (name) => {
    const page = join(root, name);
    const links = [...readFileSync(page, 'utf8').matchAll(/\]\(([^)#]*)(?:#([^)]+))?\)/g)];
    const broken = links.filter(([, path = '', heading]) => {
      if (path.startsWith('http')) return false;
      const file = path === '' ? page : join(dirname(page), path);
      return !existsSync(file) || (heading !== undefined && !anchors(file).includes(heading));
    });
    expect(links.length).toBeGreaterThan(0);
    expect(broken.map(([link]) => link)).toEqual([]);
  },
);
