import { execFileSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { commandIn } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'hostile-'));
const perchmark = commandIn(folder);
const write = (name: string, content: string | Buffer | object) =>
  writeFileSync(
    join(folder, name),
    typeof content === 'string' || Buffer.isBuffer(content) ? content : JSON.stringify(content),
  );

const values = { version: 1, threshold: 18, minimumArea: 16, cooldown: 1 };
/** What stands in the folder besides, and is no good: by name. */
const bad: Record<string, string | Buffer | object> = {
  'empty.json': '',
  'text.txt': 'hello',
  'utf16.json': Buffer.from('\uFEFF{}', 'utf16le'),
  'nul.json': '{"version":1\0}',
  'nan.json': '{"version":1,"threshold":NaN}',
  'words.json': { ...values, threshold: '18' },
  'infinite.json': '{"version":1,"threshold":1e999,"minimumArea":16,"cooldown":1}',
  'proto.json': '{"version":1,"controls":{"__proto__":5}}',
  'constructor.json': { version: 1, controls: { constructor: 5 } },
  'pixels.json': {
    ...values,
    mask: [
      [
        [0, 0],
        [64, 0],
        [64, 48],
      ],
    ],
  },
  'deep.json': '['.repeat(100_000),
  'list.json': [],
};

beforeAll(async () => {
  const path = (k: number) =>
    k >= 10 && k <= 20 ? { x: 2 + (k - 10) * 5, y: 20, size: 6, level: 180 } : null;
  const frames = drawFrames(30, path, 'hostile');
  await writeClip(join(folder, 'clip'), frames, { version: 1, visits: [{ start: 2, end: 4 }] });
  await writeClip(join(folder, 'bare'), frames, null);
  write('camera.json', smallCamera);
  write('settings.json', values);
  write('suite.json', { version: 1, clips: ['clip'], camera: 'camera.json', settings: 'settings.json' });
  for (const [name, content] of Object.entries(bad)) write(name, content);
  mkdirSync(join(folder, 'folder'));
  symlinkSync('nowhere', join(folder, 'dangling'));
  execFileSync('mkfifo', [join(folder, 'pipe')]);
});
afterAll(() => rmSync(folder, { recursive: true }));

const replay = ['replay', 'clip', '--camera', 'camera.json', '--settings'];
const camera = ['replay', 'clip', '--settings', 'settings.json', '--camera'];
const report = [...replay, 'settings.json', '--report'];
const weather = ['weather', 'clip'];
const tune = ['tune', 'clip', '--camera', 'camera.json', '--recorded-only'];
const add = ['add', 'clip/frames'];
const long = 'n'.repeat(300);

/** Wrong arguments, and what the one line says of them. Every kind of wrong file is given to every kind of option. */
const refusals: [args: string[], told: RegExp][] = [
  ...[
    ...Object.keys(bad),
    'folder',
    'dangling',
    'pipe',
    '/dev/null',
    '/dev/zero',
    'nowhere',
    '',
    ' ',
    long,
  ].flatMap((file): [string[], RegExp][] => [
    [[...replay, file], /expected|no such dial|no name that a field can have/],
    [[...camera, file], /expected|unknown field|no name that a field can have/],
    [['check', file], /expected|unknown field|no name that a field can have/],
    [
      ['replay', file, '--camera', 'camera.json', '--settings', 'settings.json'],
      /expected|unknown field|no name/,
    ],
    [['tune', file, '--camera', 'camera.json'], /expected|unknown field|no name/],
    [
      ['diagnose', 'clip', '--settings', 'settings.json', '--camera', 'camera.json', '--against', file],
      /expected|no such dial|no name/,
    ],
    [['check', 'suite.json', '--against', file], /expected|no such dial|no name|unknown field/],
    [[...weather, 'new', '--wind', '6', '--sway-from', file], /expected|unknown field|no name/],
  ]),
  ...['folder', 'text.txt', 'clip/x.jpg', 'nowhere/x', 'text.txt/x', '', long].flatMap(
    (file): [string[], RegExp][] => [
      [[...report, file], /expected|cannot be written|already|would become a part/],
      [['check', 'suite.json', '--junit', file], /expected|cannot be written|already|would become a part/],
      [
        [...weather, 'new', '--wind', '6', '--show-map', file],
        /expected|cannot be written|already|would become a part/,
      ],
    ],
  ),
  ...['text.txt', 'text.txt/x', 'clip', 'dangling', 'pipe', '/proc/new', '/proc/a/new', '', long].flatMap(
    (dir): [string[], RegExp][] => [
      [
        [...weather, dir, '--wind', '6'],
        /in the way|cannot be written|already holds|would lie inside|empty one/,
      ],
      [[...add, dir, '--rate', '5'], /in the way|cannot be written|already holds|empty one/],
    ],
  ),
  ...['text.txt', 'text.txt/x', 'dangling', 'pipe', '/proc/new/x', '', long].map(
    (dir): [string[], RegExp] => [
      ['demo', dir],
      /in the way|cannot be written|stands where a folder|empty one/,
    ],
  ),
  ...['text.txt', 'text.txt/x', 'clip', 'clip/in', 'dangling', 'pipe', '/proc/a/b', '', long].map(
    (dir): [string[], RegExp] => [[...tune, '--write', dir], /expected|cannot be written|nothing is written/],
  ),
  ...['text.txt', 'empty.json', 'folder', 'dangling', 'pipe', '/dev/zero', 'nowhere', '', long].map(
    (from): [string[], RegExp] => [
      ['add', from, 'new'],
      /expected|is empty|record or copy it again|needs ffmpeg|holds no stills/,
    ],
  ),
  ...['NaN', 'Infinity', '-1', '1e999', '', ' ', 'x', '1e308'].flatMap((n): [string[], RegExp][] => [
    [[...tune, '--worth', n], /Expected a number of photos from 0\.1 to 1000000/],
    [[...tune, '--false-per-hour', '6', '--sure', n], /Expected a probability from 0\.5 to 0\.99/],
    [['tune', 'clip', '--false-per-hour', n], /Expected a number from 0 to 1000000/],
    [
      ['tune', 'clip', '--hours-out', n, '--photos-per-day', '5'],
      /Expected a number of hours from 0\.01 to 24/,
    ],
    [[...weather, 'new', '--wind', n], /Expected a Beaufort number from 0 to 12/],
    [[...weather, 'new', '--rain', n], /Expected mm\/h from 0 to 200/],
    [[...weather, 'new', '--light', n], /Expected lux from 0 to 200000/],
    [[...add, 'new', '--rate', n], /Expected a number from 0\.00001 to 1000/],
  ]),
  [['nonsense\u001b[31m'], /unknown command 'nonsense\\u001b\[31m'/],
  [['tune', 'clip', '--\u0007'], /unknown option '--\\u0007'/],
  [['tune', 'bare', '--camera', 'camera.json'], /there is no labels\.json/],
  [[...weather, 'clip/in', '--wind', '6'], /would lie inside the clip/],
  [['add', 'clip', 'clip/in', '--rate', '5'], /would lie inside the recording/],
  [['check', 'suite.json', '--junit', 'suite.json'], /which this run reads/],
];

describe.skipIf(process.platform === 'win32')('wrong arguments', () => {
  it.each(refusals)('%j', async (args, told) => {
    const { code, out, err } = await perchmark(...args);
    const lines = err.split('\n').filter((line) => line !== '' && !line.startsWith('perchmark: note: '));
    expect({ code, out, lines: lines.length }).toEqual({ code: 2, out: '', lines: 1 });
    expect(lines[0]).toMatch(told);
    // biome-ignore lint/suspicious/noControlCharactersInRegex: it is they that must not come through
    expect(lines[0]).not.toMatch(/undefined|NaN:|Infinity:|\[object| {4}at |[\u0000-\u001f]/);
    expect(lines[0]!.length).toBeLessThan(1500);
  });

  it('change nothing', () => {
    expect(existsSync(join(folder, 'new'))).toBe(false);
    expect(readdirSync(join(folder, 'clip')).sort()).toEqual(['clip.json', 'frames', 'labels.json']);
    expect(readFileSync(join(folder, 'text.txt'), 'utf8')).toBe('hello');
    expect(readdirSync(folder).filter((name) => name.endsWith('.partial'))).toEqual([]);
  });
});
