import { execFileSync, spawn, spawnSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  lstatSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { mkdir, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { beforeEach, expect, it } from 'vitest';
import { type OutputRules, openOutput, replaceOwn, writeTogether } from '../../src/files/output.js';
import { Cache } from '../../src/store/cache.js';
import { madeIn } from '../../src/store/made.js';
import { tempDir } from '../clip/fixtures.js';

let dir: string;
let rules: OutputRules;
const at = (...names: string[]) => join(dir, ...names);
const write = async (path: string, text: string, more: Partial<OutputRules> = {}) =>
  (await openOutput('--report', path, { ...rules, ...more })).write(text);

beforeEach(async () => {
  dir = await tempDir();
  rules = { reads: [], force: false, made: madeIn(new Cache(at('cache'))) };
  await mkdir(at('clip', 'frames'), { recursive: true });
  for (const [name, text] of [
    ['clip/clip.json', '{}'],
    ['clip/labels.json', 'hours of work'],
    ['clip/frames/0.jpg', 'a frame'],
    ['camera.json', 'a camera'],
    ['mine.html', 'my own page'],
    ['empty.html', ''],
  ] as const) {
    writeFileSync(at(name), text);
  }
});

it.each([
  ['labels of a clip', 'clip/labels.json', /lies in the clip .* nothing is replaced/],
  ['the description of a clip', 'clip/clip.json', /nothing is replaced/],
  ['a frame', 'clip/frames/0.jpg', /nothing is replaced/],
  ['a new frame', 'clip/frames/1.jpg', /would become a part of the clip/],
  ['labels that are not there yet', 'other/labels.json', /would become a part/],
  ['a file that the run reads', 'camera.json', /this run reads/],
  ['a page of somebody else', 'mine.html', /did not make.*--force/],
  ['a folder', 'clip', /this is a folder/],
  ['a place without a folder', 'no/such/page.html', /a folder on the way is missing/],
  ['nothing', '', /expected the name of a file/],
  ['a name that is too long', 'x'.repeat(300), /too long/],
])('%s is refused before the work, and stays as it was', async (_, name, message) => {
  await mkdir(at('other'));
  writeFileSync(at('other', 'clip.json'), '{}');
  const changed = () => lstatSync(at(name)).mtimeMs;
  const before = existsSync(at(name)) ? changed() : null;
  const opening = openOutput('--report', name && at(name), { ...rules, reads: [at('camera.json')] });
  await expect(opening).rejects.toMatchObject({ name: 'Problem', message: expect.stringMatching(message) });
  expect(existsSync(at(name)) ? changed() : null).toBe(before);
});

it('--force writes over what somebody else made, but never over what is read or lies in a clip', async () => {
  await write(at('mine.html'), 'new', { force: true });
  expect(readFileSync(at('mine.html'), 'utf8')).toBe('new');
  const forced = { force: true, reads: [at('camera.json')] };
  await expect(write(at('camera.json'), 'new', forced)).rejects.toThrow(/this run reads/);
  await expect(write(at('clip/labels.json'), 'new', forced)).rejects.toThrow(/nothing is replaced/);
});

it('what it made it may make again, until somebody changes it; an empty file it may fill', async () => {
  await write(at('empty.html'), 'one');
  await write(at('page.html'), 'one');
  await write(at('page.html'), 'two');
  writeFileSync(at('page.html'), 'two, with a note of mine');
  await expect(write(at('page.html'), 'three')).rejects.toThrow(/was changed since/);
  expect(readFileSync(at('page.html'), 'utf8')).toBe('two, with a note of mine');
});

it('follows links, over several steps and to what is not there yet, and keeps them', async () => {
  symlinkSync('second', at('first'));
  symlinkSync('page.html', at('second'));
  await write(at('first'), 'text');
  expect(lstatSync(at('first')).isSymbolicLink()).toBe(true);
  expect(readFileSync(at('page.html'), 'utf8')).toBe('text');
  symlinkSync(at('clip/labels.json'), at('sly.html'));
  await expect(write(at('sly.html'), 'text', { force: true })).rejects.toThrow(/nothing is replaced/);
  symlinkSync('round', at('round'));
  await expect(write(at('round'), 'text')).rejects.toThrow(/circle/);
});

it('keeps permissions', async () => {
  chmodSync(at('mine.html'), 0o600);
  await write(at('mine.html'), 'text', { force: true });
  expect(statSync(at('mine.html')).mode & 0o777).toBe(0o600);
});

it('writes into a pipe as to a stream, and leaves it a pipe', async () => {
  execFileSync('mkfifo', [at('pipe')]);
  const reader = spawn('cat', [at('pipe')]);
  let read = '';
  reader.stdout.on('data', (bytes) => {
    read += bytes;
  });
  // Listened for before anything is written: a quick reader is gone by then.
  const closed = new Promise((resolve) => reader.on('close', resolve));
  await write(at('pipe'), 'text');
  await closed;
  expect(read).toBe('text');
  expect(statSync(at('pipe')).isFIFO()).toBe(true);
});

it('waits for no reader of a pipe that never comes', async () => {
  execFileSync('mkfifo', [at('lonely')]);
  await expect(write(at('lonely'), 'text')).rejects.toThrow(
    /lonely: this is a named pipe that no program reads/,
  );
});

it('leaves nothing beside what it wrote, and sweeps what a dead process left', async () => {
  const { pid } = spawnSync('true');
  await write(at('page.html'), 'text');
  const [name] = (await readdir(dir)).filter((entry) => entry.endsWith('.partial'));
  expect(name).toBeUndefined();
  // The name of an unfinished file of this machine, as another process would have made it.
  const { besides } = await import('../../src/files/partial.js');
  const dead = besides(at('page.html')).replace(`.${process.pid}.`, `.${pid}.`);
  const living = besides(at('page.html'));
  for (const file of [dead, living]) writeFileSync(file, 'half of it');
  await write(at('page.html'), 'more');
  expect(
    (await readdir(dir)).filter((entry) => entry.endsWith('.partial')).map((entry) => at(entry)),
  ).toEqual([living]);
});

it('replaces what a verb exists to write, through links, in a clip too', async () => {
  symlinkSync('kept.json', at('suite.accepted.json'));
  writeFileSync(at('kept.json'), 'old');
  await replaceOwn(at('suite.accepted.json'), 'new');
  expect(lstatSync(at('suite.accepted.json')).isSymbolicLink()).toBe(true);
  expect(readFileSync(at('kept.json'), 'utf8')).toBe('new');
});

it('writes what comes in pieces as it comes, and knows it for its own the next time', async () => {
  async function* pieces() {
    yield 'one';
    // Nothing of it stands where it will be.
    expect(await readdir(dir)).not.toContain('pieces.html');
    yield ', two';
  }
  await (await openOutput('--report', at('pieces.html'), rules)).write(pieces());
  expect(readFileSync(at('pieces.html'), 'utf8')).toBe('one, two');
  await (await openOutput('--report', at('pieces.html'), rules)).write('anew');
  expect(readFileSync(at('pieces.html'), 'utf8')).toBe('anew');
});

it('leaves nothing of pieces that end in an error, and the old file as it is', async () => {
  async function* broken() {
    yield 'half';
    throw new Error('stopped');
  }
  await write(at('old.html'), 'old');
  const output = await openOutput('--report', at('old.html'), rules);
  await expect(output.write(broken())).rejects.toThrow('stopped');
  expect(readFileSync(at('old.html'), 'utf8')).toBe('old');
  expect((await readdir(dir)).filter((name) => name.endsWith('.partial'))).toEqual([]);
});

it('of files that belong together none is put in place where one of them cannot be written', async () => {
  const [camera, settings] = [
    await openOutput('--write', at('new-camera.json'), rules),
    await openOutput('--write', at('new-settings.json'), rules),
  ];
  const broken = { ...settings, write: () => Promise.reject(new Error('the disk is gone')) };
  await expect(
    writeTogether([
      [camera, 'a camera'],
      [broken, 'its settings'],
    ]),
  ).rejects.toThrow('the disk is gone');
  expect((await readdir(dir)).filter((name) => name.startsWith('new-'))).toEqual([]);

  await writeTogether([
    [camera, 'a camera'],
    [settings, 'its settings'],
  ]);
  expect(readFileSync(at('new-camera.json'), 'utf8')).toBe('a camera');
  expect(readFileSync(at('new-settings.json'), 'utf8')).toBe('its settings');
});

it('puts neither of two files that belong together in place where one of the places was changed meanwhile', async () => {
  writeFileSync(at('old-camera.json'), '');
  writeFileSync(at('old-settings.json'), '');
  const camera = await openOutput('--write', at('old-camera.json'), rules);
  const settings = await openOutput('--write', at('old-settings.json'), rules);
  writeFileSync(at('old-settings.json'), "the owner's");
  await expect(
    writeTogether([
      [camera, 'a camera'],
      [settings, 'its settings'],
    ]),
  ).rejects.toThrow(
    /while this ran, so it was left as it is; what was to be written is in .*old-camera\.json/,
  );
  const texts = ['old-camera.json', 'old-settings.json'].map((name) => readFileSync(at(name), 'utf8'));
  expect(texts).toEqual(['', "the owner's"]);
});
