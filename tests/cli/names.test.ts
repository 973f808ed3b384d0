import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { commandIn } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'names-'));
const perchmark = commandIn(folder);
const write = (name: string, content: object) => writeFileSync(join(folder, name), JSON.stringify(content));

beforeAll(() => write('settings.json', { version: 1, threshold: 18, minimumArea: 16, cooldown: 1 }));
afterAll(() => rmSync(folder, { recursive: true }));

const name = 'w\u001b[2Jren\u0007\u0000\n';
const site = 'clip\u001b[31m';

describe('names that would act on a terminal', () => {
  const spelled = { out: '', err: '' };

  beforeAll(async () => {
    const frames = drawFrames(
      60,
      (k) => (k >= 40 && k < 46 ? { x: k, y: 20, size: 6, level: 180 } : null),
      'names',
    );
    await writeClip(
      join(folder, site),
      frames,
      {
        version: 1,
        visits: [{ start: 1, end: 2, name }],
        mask: [
          [
            [0, 0],
            [0.1, 0],
            [0.1, 0.1],
          ],
        ],
      },
      { rate: 2, title: `<b>${name}`, site: name },
    );
    const dial = smallCamera.controls.sensitivity;
    write('named.json', {
      ...smallCamera,
      name,
      controls: { ...smallCamera.controls, sensitivity: undefined, [name]: dial },
    });
    const run = ['--settings', 'settings.json', '--camera', 'named.json'];
    for (const args of [
      ['replay', site, ...run, '--report', 'named.html'],
      ['tune', site, '--camera', 'named.json', '--recorded-only', '--report', 'tuned.html'],
      ['diagnose', site, ...run, '--report', 'diagnosed.html'],
    ]) {
      const { code, out, err } = await perchmark(...args);
      expect({ args, code, err }).toMatchObject({ code: 0 });
      spelled.out += out;
      spelled.err += err;
    }
  });

  it('are spelled out in text, in notes and in pages', () => {
    const pages = ['named', 'tuned', 'diagnosed'].map((page) =>
      readFileSync(join(folder, `${page}.html`), 'utf8'),
    );
    // biome-ignore lint/suspicious/noControlCharactersInRegex: it is they that must not come through
    const acting = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/;
    for (const text of [spelled.out, spelled.err, ...pages]) expect(text).not.toMatch(acting);
    for (const text of [spelled.out, ...pages]) expect(text).toContain('w\\u001b[2Jren\\u0007\\u0000');
    for (const line of spelled.err.trim().split('\n'))
      expect(line).toMatch(/^perchmark: note: |: \d+ of \d+/);
  });

  it('are what they are with --json', async () => {
    const tune = ['tune', site, '--camera', 'named.json', '--recorded-only', '--json'];
    const { out } = await perchmark(...tune);
    expect(Object.keys(JSON.parse(out).recommended.controls)).toContain(name);
  });

  it('are spelled out in JUnit', async () => {
    write('named-suite.json', {
      version: 1,
      title: name,
      clips: [site],
      camera: 'named.json',
      settings: 'settings.json',
    });
    await perchmark('check', 'named-suite.json', '--junit', 'named.xml');
    expect(readFileSync(join(folder, 'named.xml'), 'utf8')).toContain(
      '<testsuites name="w\\u001b[2Jren\\u0007\\u0000',
    );
  });
});

describe('a suite with a name of 250 characters', () => {
  it('is accepted and then holds', async () => {
    const suite = `${'s'.repeat(245)}.json`;
    write(suite, { version: 1, clips: [site], camera: 'named.json', settings: 'settings.json' });
    const accepted = await perchmark('check', suite, '--accept', '--why', 'the first');
    expect(accepted).toMatchObject({ code: 0 });
    expect((await perchmark('check', suite)).out).toContain('Holds.');
  });
});
