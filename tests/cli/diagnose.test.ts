import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { causeNames } from '../../src/score/labels.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { commandIn, type Ran } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'diagnose-'));

beforeAll(async () => {
  // Two crossings by day, and a patch in the corner that goes to and fro all the time between them.
  const frames = drawFrames(
    300,
    (k) =>
      (k >= 40 && k < 50) || (k >= 200 && k < 210)
        ? { x: 10 + 4 * (k % 10), y: 10, size: 8, level: 190 }
        : k % 25 < 10
          ? { x: k % 2 ? 2 : 6, y: 38, size: 8, level: 60 }
          : null,
    'diagnose',
  );
  const visits = [
    { start: 8, end: 10.2, type: 'animal', name: 'wren' },
    { start: 40, end: 42.2, type: 'animal', name: 'blackbird' },
  ];
  await writeClip(join(folder, 'labelled'), frames, { version: 1, visits });
  await writeClip(join(folder, 'bare'), frames.slice(0, 100), null);
  const file = (name: string, value: unknown) => writeFileSync(join(folder, name), JSON.stringify(value));
  file('camera.json', smallCamera);
  file('now.json', { version: 1, threshold: 18, minimumArea: 16, cooldown: 1 });
  file('deaf.json', { version: 1, threshold: 200, minimumArea: 16, cooldown: 1 });
  file('typo.json', { version: 1, treshold: 18, minimumArea: 16, cooldown: 1 });
  file('beyond.json', { version: 1, controls: { sensitivity: 9, minimumArea: 16, cooldown: 1 } });
});
afterAll(() => rmSync(folder, { recursive: true }));

const perchmark = commandIn(folder);
const diagnose = (...args: string[]) => perchmark('diagnose', ...args);
const by = (settings: string) => ['--camera', 'camera.json', '--settings', settings];

it.each([
  [['labelled'], /--settings/],
  [[...by('now.json')], /diagnose: expected the names of clips, found none/],
  [['labelled', '--settings', 'none.json'], /none\.json: there is no such file/],
  [['labelled', ...by('typo.json')], /typo\.json: treshold: unknown field \(did you mean 'threshold'/],
  [['labelled', ...by('beyond.json')], /beyond\.json: controls\.sensitivity: expected 1 to 5/],
  [['nowhere', ...by('now.json')], /nowhere/],
  [['labelled', ...by('now.json'), '--agianst', 'deaf.json'], /unknown option.*[Dd]id you mean --against/],
  [['labelled', ...by('now.json'), '--against', 'none.json'], /none\.json: there is no such file/],
  [
    ['bare', ...by('now.json'), '--write-mask', 'mask.json'],
    /--write-mask: expected at least one clip with labels/,
  ],
])('%j is refused in one line', async (args, message) => {
  const { code, out, err } = await diagnose(...args);
  expect({ code, out, lines: err.trim().split('\n').length }).toEqual({ code: 2, out: '', lines: 1 });
  expect(err).toMatch(message);
  expect(existsSync(join(folder, 'mask.json'))).toBe(false);
});

describe('a labelled clip', () => {
  let ran: Ran;
  let data: ReturnType<typeof JSON.parse>;
  beforeAll(async () => {
    const files = ['--write-mask', 'mask.json', '--report', 'report.html', '--against', 'deaf.json'];
    ran = await diagnose('labelled', ...by('now.json'), ...files, '--json');
    data = JSON.parse(ran.out);
  }, 60_000);

  it('ends well with one JSON document', () => {
    expect(ran.code).toBe(0);
    expect(Object.keys(data)).toEqual(expect.arrayContaining(['falseTriggers', 'missed', 'cures']));
  });

  it('lists every false trigger, with a cause, a probability, a sentence and a box within the frame', () => {
    // Every five seconds the patch moves for two, busy for one after each trigger: two or three a time, twelve times.
    expect(data.falseTriggers.length).toBeGreaterThan(20);
    for (const { clip, time, cause, probability, evidence, box } of data.falseTriggers) {
      expect(clip).toBe('labelled');
      // The animals go at 10.0 s and 42.0 s, with photos 0.2 s after the visits' ends.
      if (cause === 'visit') {
        expect([10, 42]).toContain(time);
        expect(probability).toBeNull();
      } else {
        expect(causeNames).toContain(cause);
        expect(probability).toBeGreaterThan(0);
        expect(probability).toBeLessThanOrEqual(1);
      }
      expect(evidence).toMatch(/\.$/);
      expect(box[0] + box[2]).toBeLessThanOrEqual(1);
      expect(box[1] + box[3]).toBeLessThanOrEqual(1);
    }
  });

  it('offers a mask over the patch, measured and proved', () => {
    const mask = data.cures.find(({ kind }: { kind: string }) => kind === 'mask');
    expect(mask).toMatchObject({ visitsLost: 0, provedOn: 'other half' });
    expect(mask.falseRemoved).toBeGreaterThan(data.falseTriggers.length / 2);
  });

  it('writes the settings with that mask, which replay takes as they are', async () => {
    const mask = data.cures.find(({ kind }: { kind: string }) => kind === 'mask');
    expect(JSON.parse(readFileSync(join(folder, 'mask.json'), 'utf8'))).toEqual(mask.settings);
    expect(data.maskWritten).toBe('mask.json');
    const again = await diagnose('labelled', ...by('mask.json'), '--json');
    expect(JSON.parse(again.out).falseTriggers).toHaveLength(data.falseTriggers.length - mask.falseRemoved);
  });

  it('says which triggers and visits differ under other settings', () => {
    const [{ clip, both, triggers, visits }] = data.against;
    expect(clip).toBe('labelled');
    expect(both).toEqual({ triggers: 0, visits: 0 });
    // Nothing is bright enough for the deaf settings.
    expect(
      triggers.every(
        ({ firedBy, why }: { firedBy: string; why: string }) => firedBy === 'these' && why === 'threshold',
      ),
    ).toBe(true);
    expect(visits.map(({ caughtBy }: { caughtBy: string }) => caughtBy)).toEqual(['these', 'these']);
  });

  it('writes a report that asks for nothing from outside, with maps', () => {
    const page = readFileSync(join(folder, 'report.html'), 'utf8');
    expect(page).toContain('Where it fired falsely');
    expect(page).not.toMatch(/(?:src|href)="(?!data:|#)/);
  });
});

it('explains a clip without labels, and judges nothing', async () => {
  const { code, out } = await diagnose('bare', ...by('now.json'), '--json');
  const { falseTriggers, unjudged, missed, cures } = JSON.parse(out);
  expect({ code, falseTriggers, missed, cures }).toEqual({
    code: 0,
    falseTriggers: [],
    missed: [],
    cures: [],
  });
  expect(unjudged.length).toBeGreaterThan(4);
});

it('where nothing fires falsely it says why each visit was missed, and writes no mask', async () => {
  const { code, out } = await diagnose('labelled', ...by('deaf.json'), '--write-mask', 'none.json');
  expect(code).toBe(0);
  expect(out).toMatch(/^labelled: never fired falsely\./);
  expect(out).toMatch(/Missed 2 of 2 visits:\s+0:08-0:10\s+wren: too faint/);
  expect(out).toMatch(/none\.json: not written/);
  expect(existsSync(join(folder, 'none.json'))).toBe(false);
});
