import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parse } from 'junit2json';
import { parseHTML } from 'linkedom';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { commandIn, messagesIn } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'check-'));
afterAll(() => rmSync(folder, { recursive: true }));

/** A faint wren from 4 s to 6 s, a sparrow from 12 s to 14 s, and a flash from 8 s to 8.4 s that is nothing. */
const path = (k: number) => {
  if (k === 40 || k === 41) return { x: 10, y: 10, size: 12, level: 200 };
  if (k >= 20 && k <= 30) return { x: 2 + (k - 20) * 5, y: 20, size: 6, level: 140 };
  if (k >= 60 && k <= 70) return { x: 2 + (k - 60) * 5, y: 30, size: 6, level: 200 };
  return null;
};
const labels = {
  version: 1,
  visits: [
    { start: 4, end: 7, type: 'animal', name: 'wren' },
    { start: 12, end: 15, type: 'animal', name: 'house sparrow' },
  ],
};
const settings = { version: 1, threshold: 18, minimumArea: 16, cooldown: 1 };
/** Above what the wren changes, below what the sparrow does. */
const blunt = { ...settings, threshold: 60 };
const suite = {
  version: 1,
  title: 'the garden',
  clips: ['calm'],
  camera: 'camera.json',
  settings,
  limits: { recall: 0.5 },
};
const write = (name: string, content: object) =>
  writeFileSync(join(folder, name), JSON.stringify(content, null, 2));
const read = (name: string) => readFileSync(join(folder, name), 'utf8');

beforeAll(async () => {
  await writeClip(join(folder, 'calm'), drawFrames(100, path, 'check'), labels);
  await writeClip(
    join(folder, 'bare'),
    drawFrames(10, () => null, 'bare'),
    null,
  );
  write('camera.json', smallCamera);
  write('blunt.json', blunt);
  write('suite.json', suite);
});

const perchmark = commandIn(folder);
const accept = () => perchmark('check', 'suite.json', '--accept', '--why', 'as it was hung');

describe('before anything was accepted', () => {
  it('fails, and says how to accept', async () => {
    const { code, out } = await perchmark('check', 'suite.json');
    expect(code).toBe(1);
    expect(out).toMatch(/Fails:\s+nothing was accepted yet\s/);
    expect(out).toContain('perchmark check suite.json --accept --why "..."');
  });
});

describe('after results were accepted', () => {
  let accepted: string;
  beforeAll(async () => {
    const { code, err } = await accept();
    expect([code, messagesIn(err)]).toEqual([0, []]);
    accepted = read('suite.accepted.json');
  });
  beforeEach(() => {
    writeFileSync(join(folder, 'suite.accepted.json'), accepted);
    write('suite.json', suite);
    write('calm/labels.json', labels);
  });

  it('holds, and accepting again gives the same bytes', async () => {
    const { code, out } = await perchmark('check', 'suite.json');
    expect({ code, last: out.trimEnd().split('\n').at(-1) }).toEqual({ code: 0, last: 'Holds.' });
    await accept();
    expect(read('suite.accepted.json')).toBe(accepted);
  });

  it('names a visit newly lost in JSON, in text and in JUnit XML, and fails', async () => {
    write('suite.json', { ...suite, settings: blunt });
    const { code, out } = await perchmark('check', 'suite.json', '--json', '--junit', 'junit.xml');
    expect(code).toBe(1);
    const result = JSON.parse(out);
    expect(result).toMatchObject({
      verdict: 'fails',
      accepted: { before: 'as it was hung', now: null },
      changed: ['settings: sensitivity 1, was 4'],
      clips: [
        {
          clip: 'calm',
          verdict: 'worse',
          lost: [{ visit: 0, name: 'wren', start: 4, end: 7 }],
          gained: [],
          newFalse: [],
          before: { caught: 2 },
          now: { caught: 1 },
        },
      ],
      limits: [{ clip: null, limit: 'recall', bound: 0.5, value: 0.5, holds: true }],
      inference: { tests: [{ of: 'visits', worse: 1, answer: 'too little to tell' }, {}] },
    });
    expect(await parse(read('junit.xml'))).toMatchObject({ name: 'the garden', tests: 2, failures: 1 });
    expect((await perchmark('check', 'suite.json')).out).toContain('newly lost: 0:04.0-0:07.0 wren');
  });

  it('shows what is newly missed and new false triggers in the report', async () => {
    // Without a pause the flash fires when it comes and when it goes.
    write('suite.json', { ...suite, settings: { ...blunt, cooldown: 0 } });
    const { code } = await perchmark('check', 'suite.json', '--report', 'report.html');
    expect(code).toBe(1);
    const { document } = parseHTML(read('report.html'));
    const section = document.querySelector('section') as Element;
    expect(section.querySelector('h2')?.textContent).toBe('Has it got worse? The check fails');
    expect([...section.querySelectorAll('h4')].map((h) => h.textContent)).toEqual([
      'Visits newly missed',
      'New false triggers',
    ]);
    const captions = [...section.querySelectorAll('figcaption')].map((c) => c.textContent.trim());
    expect(captions).toEqual(['0:04.0 to 0:07.0, wren', '0:08.4, photo 0:08.8']);
    expect(section.querySelectorAll('img:not(.close)').length).toBe(captions.length);
  });

  it('accepts a lost visit and a broken limit with a reason, until they get worse', async () => {
    write('suite.json', { ...suite, settings: blunt, limits: { recall: 0.8 } });
    expect((await perchmark('check', 'suite.json')).out).toMatch(/catches 50 % of the visits, at least 80 %/);
    await perchmark('check', 'suite.json', '--accept', '--why', 'the wren has left');
    const { code, out } = await perchmark('check', 'suite.json');
    expect(code).toBe(0);
    expect(out).toMatch(/accepted because: the wren has left/);
    expect(out).toMatch(/broken, accepted/);
  });

  it('says that a clip with other visits is not comparable, and that one with another mask is', async () => {
    write('calm/labels.json', { ...labels, visits: [{ ...labels.visits[0], end: 6.9 }, labels.visits[1]] });
    const visits = await perchmark('check', 'suite.json');
    expect(visits.code).toBe(1);
    expect(visits.out).toMatch(/not comparable: its visits, or the time that does not count, changed since/);

    const all = [
      [
        [0, 0],
        [1, 0],
        [1, 1],
        [0, 1],
      ],
    ];
    write('calm/labels.json', { ...labels, mask: all });
    const { clips } = JSON.parse((await perchmark('check', 'suite.json', '--json')).out);
    expect(clips[0]).toMatchObject({
      maskChanged: true,
      lost: [{ name: 'wren' }, { name: 'house sparrow' }],
    });
  });

  it('holds other settings against its own, and leaves the accepted results alone', async () => {
    const { code, out } = await perchmark('check', 'suite.json', '--against', 'blunt.json', '--json');
    expect(code).toBe(1);
    expect(JSON.parse(out)).toMatchObject({
      changed: ['settings: sensitivity 1, was 4'],
      clips: [{ verdict: 'worse', lost: [{ name: 'wren' }] }],
    });
    write('suite.json', { ...suite, settings: blunt });
    write('keen.json', settings);
    const back = JSON.parse((await perchmark('check', 'suite.json', '--against', 'keen.json', '--json')).out);
    expect(back).toMatchObject({ verdict: 'holds', clips: [{ gained: [{ name: 'wren' }] }] });
    expect(read('suite.accepted.json')).toBe(accepted);
  });

  it('holds another camera against its own', async () => {
    write('slow.json', { ...smallCamera, shutterLag: 4 });
    const { clips, changed } = JSON.parse(
      (await perchmark('check', 'suite.json', '--against', 'slow.json', '--json')).out,
    );
    expect(changed).toEqual(['camera: shutterLag 4, was 0.4']);
    // The wren is gone when its photos are taken; the sparrow stands in one that the flash fired, at 12.4 s.
    expect(clips[0].lost).toMatchObject([{ name: 'wren' }]);
  });

  it.each<[string, string[], RegExp]>([
    ['no suite', [], /expected a suite file, found none/],
    ['a reason without --accept', ['suite.json', '--why', 'x'], /--why: expected together with --accept/],
    ['--accept without a reason', ['suite.json', '--accept'], /--accept: expected a reason, found none/],
    ['an empty reason', ['suite.json', '--accept', '--why', ' '], /--accept: expected a reason, found none/],
    [
      '--accept and --against',
      ['suite.json', '--accept', '--why', 'x', '--against', 'blunt.json'],
      /--accept and --against: expected one of the two/,
    ],
    ['a clip without labels', ['bare-suite.json'], /clips\[0\]: expected a clip with labels/],
  ])('refuses %s in one line', async (_, args, message) => {
    write('bare-suite.json', { ...suite, clips: ['bare'] });
    const { code, out, err } = await perchmark('check', ...args);
    expect({ code, out, lines: err.trim().split('\n').length }).toEqual({ code: 2, out: '', lines: 1 });
    expect(err).toMatch(message);
    expect(read('suite.accepted.json')).toBe(accepted);
  });
});
