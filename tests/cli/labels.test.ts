import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { faultsOf } from '../oracle/camtrap.js';
import { drawFrames, writeClip } from '../support/clips.js';
import { commandIn } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'labels-'));
afterAll(() => rmSync(folder, { recursive: true }));
const perchmark = commandIn(folder);
const labels = (...args: string[]) => perchmark('labels', ...args);
const file = (name: string) => join(folder, name);
const text = (name: string) => readFileSync(file(name), 'utf8');
const write = (name: string, value: string | object) =>
  writeFileSync(file(name), typeof value === 'string' ? value : JSON.stringify(value));

const place = { latitude: 51.5, longitude: -3.2 };
const start = '2026-05-04T06:10:00+01:00';
const own = {
  version: 1,
  reviewed: [{ start: 0, end: 18 }],
  visits: [
    { start: 2.5, end: 4, type: 'animal', name: 'wren', count: 2, box: [0.1, 0.2, 0.3, 0.2] },
    { start: 8, end: 9, type: 'human' },
  ],
  ignored: [{ start: 0, end: 1, why: 'setting up' }],
};

/** Time that does not count within the clip of 20 s, and a bird 40 s after its end. */
const LATE =
  'WEBVTT\n\n00:01.000 --> 00:02.000\nnot counted\ntype: ignored\n\n01:00.000 --> 01:02.000\nwren\n';

beforeAll(async () => {
  const frames = drawFrames(100, () => null, 'labels');
  await writeClip(file('garden/clip'), frames, own, { rate: 5, site: 'log pile', start, place });
  await writeClip(file('all/clip'), frames, { version: 1, visits: [own.visits[1]] }, { rate: 5 });
  await writeClip(file('bare'), frames, null, { rate: 5 });
  await writeClip(file('labelled'), frames, own, { rate: 5 });
  await writeClip(
    file('pond/clip'),
    drawFrames(100, () => null, 'pond'),
    own,
    { rate: 5 },
  );
  await writeClip(file('back'), frames, null, { rate: 5, start });
  write('now.json', { version: 1, controls: { sensitivity: 7, minimumArea: 100, cooldown: 10 } });
  mkdirSync(file('taken'));
  write('taken/media.csv', 'mine');
});

beforeEach(() => {
  for (const name of readdirSync(file('back'))) {
    if (name.startsWith('labels')) rmSync(file(`back/${name}`));
  }
});

describe('labels export', () => {
  it('writes a package that keeps to the published tables, beside the clip whose files it names', async () => {
    const { code, out } = await labels(
      'export',
      'garden/clip',
      'garden',
      '--as',
      'camtrap-dp',
      '--settings',
      'now.json',
    );
    expect(code).toBe(0);
    expect(out).toMatch(/2 visits of garden\/clip written: garden\/datapackage\.json/);
    const [deployments, media, observations] = ['deployments', 'media', 'observations'].map((table) =>
      text(`garden/${table}.csv`),
    ) as [string, string, string];
    expect(faultsOf({ deployments, media, observations })).toEqual([]);
    // cameraDelay, then cameraHeight, which nobody said.
    expect(deployments).toContain('06:10:20+01:00,,,,10,,');
    for (const path of media.match(/clip\/frames\/\d+\.png/g)!)
      expect(existsSync(file(`garden/${path}`))).toBe(true);
    expect(out).not.toContain('not copied');
  });

  it('says that the recording stays where it is, and writes over its own files only', async () => {
    const again = () => labels('export', 'garden/clip', 'shared', '--as', 'camtrap-dp', '--json');
    expect((await again()).code).toBe(0);
    const { code, out } = await again();
    expect(code).toBe(0);
    expect(JSON.parse(out).notes.join()).toContain('finds it as clip in shared');
    expect(JSON.parse(out).files).toEqual([
      'datapackage.json',
      'deployments.csv',
      'media.csv',
      'observations.csv',
    ]);
    const taken = await labels('export', 'garden/clip', 'taken', '--as', 'camtrap-dp');
    expect(taken).toMatchObject({ code: 2, out: '' });
    expect(taken.err).toMatch(/DIR taken\/media\.csv: there is a file already.*--force/);
    expect(readdirSync(file('taken'))).toEqual(['media.csv']);
    expect(text('taken/media.csv')).toBe('mine');
  });

  it.each(['camtrap-dp', 'webvtt'])(
    '%s: does not write over what it wrote of another recording',
    async (format) => {
      const said = format === 'webvtt' ? [] : ['--start', start, '--place', '51.5,-3.2'];
      const by = ['export', 'pond/clip', `of-${format}`, '--as', format, ...said];
      await labels('export', 'garden/clip', `of-${format}`, '--as', format);
      const { code, err } = await labels(...by);
      expect(code).toBe(2);
      expect(err).toMatch(/which is not of pond\/clip; choose another folder, or add --force/);
      expect((await labels(...by, '--force')).code).toBe(0);
    },
  );

  it('takes start and place from the command line where clip.json has none', async () => {
    const by = ['export', 'labelled', 'given', '--as', 'camtrap-dp'];
    const { code, err } = await labels(...by);
    expect({ code, lines: err.trim().split('\n').length, made: existsSync(file('given')) }).toEqual({
      code: 2,
      lines: 1,
      made: false,
    });
    expect(err).toMatch(/labelled: .*--start.* and where .*--place/);
    expect((await labels(...by, '--start', start, '--place', '51.5,-3.2')).code).toBe(0);
    expect(text('given/deployments.csv')).toContain(',51.5,-3.2,,2026-05-04T06:10:00+01:00,');
  });

  it.each<[string[], RegExp]>([
    [['bare', 'x', '--as', 'webvtt'], /bare: expected labels to write, found no labels\.json/],
    [
      ['garden/clip', 'garden/clip', '--as', 'webvtt'],
      /DIR garden\/clip: this is a clip, in which nothing is written/,
    ],
    [['garden/clip', 'x'], /required option '--as <format>' not specified/],
    [['garden/clip', 'x', '--as', 'webvt'], /'webvt' is invalid.*camtrap-dp, webvtt/],
    [['garden/clip', 'x', '--as', 'webvtt', '--place', '51.5'], /Expected latitude and longitude/],
    [['garden/clip', 'x', '--as', 'webvtt', '--place', '51.5,200'], /Expected latitude and longitude/],
    [['garden/clip', 'x', '--as', 'webvtt', '--start', '2026-05-04'], /Expected a time with a zone/],
    [
      ['garden/clip', 'x', '--as', 'webvtt', '--place', '51,2'],
      /--place: expected together with --as camtrap-dp/,
    ],
    [['nowhere', 'x', '--as', 'webvtt'], /nowhere\/clip\.json: there is no such file/],
  ])('refuses %j in one line and makes nothing', async (args, message) => {
    const { code, out, err } = await labels('export', ...args);
    expect({ code, out, lines: err.trim().split('\n').length }).toEqual({ code: 2, out: '', lines: 1 });
    expect(err).toMatch(message);
    expect(existsSync(file('x'))).toBe(false);
  });
});

describe('labels import', () => {
  const packed = () => labels('export', 'garden/clip', 'garden', '--as', 'camtrap-dp');
  const vtt = () => labels('export', 'garden/clip', 'cues', '--as', 'webvtt');

  it.each([
    ['camtrap-dp', 'garden', packed],
    ['webvtt', 'cues/clip.vtt', vtt],
  ])('brings back from %s what was written', async (format, from, made) => {
    await made();
    const { code, out } = await labels('import', from, 'back', '--as', format);
    expect(code).toBe(0);
    expect(out.replace(/\s+/g, ' ')).toMatch(
      /back\/labels\.json now holds 2 visits, 1 ignored stretch, from/,
    );
    expect(JSON.parse(text('back/labels.json'))).toEqual(own);
  });

  it('leaves labels that are there as they are, unless it is told what is to become of them', async () => {
    await vtt();
    const mine = {
      $schema: './labels.schema.json',
      version: 1,
      visits: [{ start: 15, end: 16, name: 'moorhen' }, own.visits[0]],
    };
    write('back/labels.json', mine);
    const by = ['import', 'cues/clip.vtt', 'back', '--as', 'webvtt'];
    const refused = await labels(...by);
    expect(refused).toMatchObject({ code: 2, out: '' });
    expect(refused.err).toMatch(/there are labels already \(2 visits\), .*--merge.*--force/);
    expect((await labels('import', 'nowhere.vtt', 'back', '--as', 'webvtt')).err).toMatch(
      /^perchmark: nowhere\.vtt: there is no such file/,
    );
    expect(JSON.parse(text('back/labels.json'))).toEqual(mine);

    const merged = JSON.parse((await labels(...by, '--merge', '--json')).out);
    expect(merged).toMatchObject({ before: { visits: 2 }, labels: { visits: 3, ignored: 1 }, keptAs: null });
    expect(JSON.parse(text('back/labels.json'))).toEqual({
      $schema: './labels.schema.json',
      version: 1,
      visits: [{ ...mine.visits[0], type: 'animal' }, ...own.visits],
      ignored: own.ignored,
    });

    write('back/labels.json', mine);
    const replaced = await labels(...by, '--force');
    expect(replaced.out.replace(/\s+/g, ' ')).toContain(
      'What was there before (2 visits) is in back/labels.json.1.',
    );
    expect(JSON.parse(text('back/labels.json'))).toEqual(own);
    expect(JSON.parse(text('back/labels.json.1'))).toEqual(mine);
  });

  it('replaces labels that are broken, and keeps them, but puts nothing to them', async () => {
    await vtt();
    const by = ['import', 'cues/clip.vtt', 'back', '--as', 'webvtt'];
    write('back/labels.json', '{"version": 1, "visits": [');
    expect((await labels(...by, '--merge')).err).toMatch(/labels\.json: not valid JSON/);
    expect((await labels(...by)).code).toBe(2);
    expect((await labels(...by, '--force')).code).toBe(0);
    expect(text('back/labels.json.1')).toBe('{"version": 1, "visits": [');
  });

  it('says of broken labels that they are, and of a folder in their place nothing that cannot work', async () => {
    await vtt();
    const by = ['import', 'cues/clip.vtt', 'back', '--as', 'webvtt'];
    write('back/labels.json', '{"version": 1, "visits": [');
    expect((await labels(...by)).err).toMatch(
      /labels\.json: not valid JSON.*; or add --force to replace the file, which is kept beside/,
    );
    rmSync(file('back/labels.json'));
    mkdirSync(file('back/labels.json'));
    const { code, err } = await labels(...by);
    rmSync(file('back/labels.json'), { recursive: true });
    expect({ code, err }).toEqual({ code: 2, err: expect.stringMatching(/labels\.json: this is a folder/) });
    expect(err).not.toContain('--force');
  });

  it('--merge keeps what was looked through, with what is read, unless all of the clip was', async () => {
    await labels('export', 'all/clip', 'all', '--as', 'webvtt');
    const mine = {
      version: 1,
      reviewed: [{ start: 0, end: 5 }],
      visits: [{ start: 1, end: 2, type: 'animal' }],
    };
    write('back/labels.json', mine);
    const by = ['import', 'all/clip.vtt', 'back', '--as', 'webvtt', '--merge'];
    const { code, out } = await labels(...by);
    expect(code).toBe(0);
    expect(out.replace(/\s+/g, ' ')).toContain('what was looked through stays what labels.json said');
    expect(JSON.parse(text('back/labels.json')).reviewed).toEqual([
      { start: 0, end: 5 },
      { start: 8, end: 9 },
    ]);
    await labels(...by, '--all-reviewed');
    expect(JSON.parse(text('back/labels.json'))).not.toHaveProperty('reviewed');
  });

  it('--merge says how many visits now overlap one of the same type, which may be one animal twice', async () => {
    await vtt();
    const [wren, walker] = own.visits;
    write('back/labels.json', {
      version: 1,
      visits: [
        { ...wren, start: 1, name: 'robin' },
        { ...walker, type: 'vehicle' },
      ],
    });
    const { out } = await labels('import', 'cues/clip.vtt', 'back', '--as', 'webvtt', '--merge', '--json');
    expect(JSON.parse(out).notes).toEqual([
      expect.stringMatching(/^1 visit that was read overlaps one of the same type that was there/),
    ]);
  });

  it.each([
    ['camtrap-dp', 'garden', packed, ['--start', '2026-05-04T07:10:00+01:00']],
    ['webvtt', 'late.vtt', async () => write('late.vtt', LATE), []],
  ])(
    'of %s: visits that all lie outside are refused, and replace nothing with --force',
    async (format, from, made, more) => {
      await made();
      write('back/labels.json', own);
      const { code, err } = await labels('import', from, 'back', '--as', format, ...more, '--force');
      expect(code).toBe(2);
      expect(err).toMatch(/the nearest lies (59:51|0:40)/);
      expect(readdirSync(file('back')).filter((name) => name.startsWith('labels'))).toEqual(['labels.json']);
      expect(JSON.parse(text('back/labels.json'))).toEqual(own);
    },
  );

  it('takes the place of labels that nobody has begun', async () => {
    await vtt();
    write('back/labels.json', { version: 1, visits: [] });
    expect((await labels('import', 'cues/clip.vtt', 'back', '--as', 'webvtt')).code).toBe(0);
    expect(readdirSync(file('back'))).not.toContain('labels.json.1');
  });

  it('asks for the start where clip.json has none', async () => {
    await packed();
    const by = ['import', 'garden', 'bare', '--as', 'camtrap-dp'];
    expect((await labels(...by)).err).toMatch(/bare: expected when the recording began, .*--start/);
    expect((await labels(...by, '--start', start)).code).toBe(0);
    rmSync(file('bare/labels.json'));
  });

  it.each<[string[], RegExp]>([
    [
      ['nowhere.vtt', 'back', '--as', 'webvtt'],
      /nowhere\.vtt: there is no such file; expected cues in WebVTT/,
    ],
    [
      ['nowhere', 'back', '--as', 'camtrap-dp'],
      /nowhere: there is no such file; expected the table observations/,
    ],
    [['back', 'back', '--as', 'camtrap-dp'], /back\/datapackage\.json: there is no such file/],
    [['garden/clip', 'back', '--as', 'webvtt'], /garden\/clip: this is a folder; expected cues in WebVTT/],
    [['now.json', 'back', '--as', 'camtrap-dp'], /now\.json: /],
    [['now.json', 'now.json', '--as', 'webvtt'], /now\.json: expected the folder of a clip/],
    [['a.vtt', '', '--as', 'webvtt'], /expected the name of a clip, found an empty one/],
    [['a.vtt', 'back', '--as', 'webvtt', '--merge', '--force'], /cannot be used with/],
  ])('refuses %j in one line and writes nothing', async (args, message) => {
    const { code, out, err } = await labels('import', ...args);
    expect({ code, out, lines: err.trim().split('\n').length }).toEqual({ code: 2, out: '', lines: 1 });
    expect(err).toMatch(message);
    expect(existsSync(file('back/labels.json'))).toBe(false);
  });
});
