import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { smallCamera } from '../support/clips.js';
import { commandIn } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'budget-'));
afterAll(() => rmSync(folder, { recursive: true }));
const perchmark = commandIn(folder);
const write = (name: string, value: unknown) => writeFileSync(join(folder, name), JSON.stringify(value));

const power = { mAh: 10_000, cellVolts: 3.7, efficiency: 0.85, volts: 5, idle: 0.35, photoJoules: 5 };
const storage = { cardGB: 16, photoMB: 3.5 };
const burst = { photos: 2 };

/** As long as that and begun as a JPEG, which is as far as is looked. */
const photo = (bytes: number) => Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xe0])], bytes);

/** As much of a site as counts here, with fields that do not. */
const site = (name: string | null, score: object, unseen: object | null) => ({
  site: name,
  tells: 'hint',
  clips: ['clip'],
  recommended: { settings: {}, score, unseen: { how: 'blocks of time', falsePerHour: unseen } },
});
const score = {
  visits: 12,
  caught: 10,
  trueTriggers: 20,
  watchedHours: 2,
  falsePerHour: { value: 6, low: 3, high: 11 },
};

beforeAll(() => {
  write('camera.json', { ...smallCamera, burst, power, storage });
  write('small-draw.json', { ...smallCamera, power: { ...power, idle: 0.1 }, storage });
  write('tune.json', {
    sites: [site('hedge', score, { value: 8, low: 2, high: 20, hours: 2 })],
    tells: 'hint',
  });
  write('two.json', { sites: [site('hedge', score, null), site(null, { ...score, caught: 0 }, null)] });
  write('short.json', { sites: [{ ...site(null, score, null), tells: 'too little' }] });
  write('never.json', { sites: [site(null, { ...score, watchedHours: 0, falsePerHour: null }, null)] });
  const odd = (given: object) => ({ sites: [site(null, { ...score, ...given }, null)] });
  write('tiny.json', odd({ watchedHours: 1e-320 }));
  write('huge.json', odd({ falsePerHour: { value: 1e308, low: 1e308, high: 1e308 } }));
  write('turned.json', odd({ falsePerHour: { value: 5, low: 50, high: 1 } }));
  write('camera-of-mine.json', { version: 1, controls: {} });
  write('scored.json', { sites: [{ site: 'hedge', score: {} }] });
  write('odd.json', { sites: [{ site: null, tells: 'hint', recommended: { score: {} } }] });
  mkdirSync(join(folder, 'photos', 'within'), { recursive: true });
  mkdirSync(join(folder, 'empty'));
  mkdirSync(join(folder, 'single'));
  writeFileSync(join(folder, 'single', '1.jpg'), photo(3.5e6));
  writeFileSync(join(folder, 'single', 'note.jpg'), 'hello\n');
  writeFileSync(join(folder, 'single', 'cut.jpg'), Buffer.from([0xff, 0xd8, 0xff]));
  mkdirSync(join(folder, 'junk'));
  writeFileSync(join(folder, 'junk', 'note.jpg'), 'hello\n');
  mkdirSync(join(folder, 'many'));
  for (let k = 0; k < 400; k++) writeFileSync(join(folder, 'many', `${k}.jpg`), photo(k % 2 ? 0.1e6 : 0.3e6));
  [1, 2, 3].forEach((MB) => {
    writeFileSync(join(folder, 'photos', `${MB}.JPG`), photo(MB * 1e6));
  });
  writeFileSync(join(folder, 'photos', '4.jpg'), '');
  writeFileSync(join(folder, 'photos', 'notes.txt'), 'not a photo');
  writeFileSync(join(folder, 'photos', 'within', '9.jpg'), Buffer.alloc(9e6));
});

async function told(...args: string[]) {
  const { code, out, err } = await perchmark('budget', '--camera', 'camera.json', ...args, '--json');
  expect({ code, err }).toMatchObject({ code: 0 });
  return { ...JSON.parse(out), err };
}

describe('budget', () => {
  // 10 photos an hour of 5 J are 0.0139 W: 31.45 Wh / 1.7639 W = 17.83 h; 16 000 MB / 3.5 MB / 240 = 19.05 days.
  it('tells how long battery and card last, and names nothing where all is given', async () => {
    const result = await told('--photos-per-hour', '10', '--hours-out', '24');
    expect(result.batteryHours.value).toBeCloseTo(17.83, 2);
    expect(result.cardDays.value).toBeCloseTo(19.05, 2);
    expect(result).toMatchObject({ photosPerDay: { value: 240 }, first: 'battery', assumed: [], err: '' });
  });

  it('names every figure that stood in', async () => {
    const { out } = await perchmark('budget', '--json');
    const { assumed } = JSON.parse(out);
    for (const name of [
      'mAh',
      'cellVolts',
      'volts',
      'idle',
      'photoJoules',
      'efficiency',
      'cardGB',
      'photoMB',
    ]) {
      expect(assumed.filter((line: string) => line.includes(`.${name}:`))).toHaveLength(1);
    }
    expect(assumed.join()).toMatch(/photos an hour: none.*hours out a day: 24/);
    const text = await perchmark('budget');
    expect(text.out).toMatch(/Taken as usual.*power\.mAh: 10000 mAh.*hours out a day: 24/s);
  });

  it('has no days of the card where no photo is taken', async () => {
    expect(await told()).toMatchObject({ cardDays: null, first: 'battery', photosPerDay: { value: 0 } });
    expect((await perchmark('budget', '--photos-per-hour', '0')).out).toContain('no photo is taken');
  });

  it('takes photos an hour from a plan, on average over the hours of which something is known', async () => {
    const stretch = (hours: number, photosPerHour: object | null) => ({ hours, photosPerHour, controls: {} });
    const stretches = [
      stretch(3, { value: 10, low: 2, high: 30 }),
      stretch(9, null),
      stretch(1, { value: 50, low: 6, high: 90 }),
    ];
    const of = (name: string, given: object[]) => ({ site: name, tells: 'hint', stretches: given });
    write('plan.json', { sites: [of('hedge', stretches), of('path', [stretch(5, null)])] });
    const { photosPerHour } = await told('--from', 'plan.json', '--site', 'hedge');
    // (3 x 10 + 50) / 4, and the same of the ends; photos, so that those of a burst are not counted again.
    expect(photosPerHour).toEqual({ value: 20, low: 3, high: 45 });
    const { code, err } = await perchmark('budget', '--from', 'plan.json', '--site', 'path');
    expect([code, err]).toEqual([2, expect.stringMatching(/plan.json: stretches: expected photos an hour/)]);
  });

  // Foretold 8 (2 to 20) false triggers an hour, and 10 visits in 2 hours (5 an hour; exact Poisson 2.71 to 8.48) at 2
  // triggers each; 2 photos a trigger: 2 * (8 + 10) = 36, at the least 2 * (2 + 5.43), at most 2 * (20 + 16.96).
  it('takes photos an hour from what tune printed, with their range', async () => {
    const { photosPerHour } = await told('--from', 'tune.json', '--hours-out', '10');
    expect(photosPerHour.value).toBeCloseTo(36, 9);
    expect(photosPerHour.low).toBeCloseTo(14.85, 1);
    expect(photosPerHour.high).toBeCloseTo(73.92, 1);
  });

  it('takes those on the clips where nothing was foretold, of the site that is named', async () => {
    const { photosPerHour } = await told('--from', 'two.json', '--site', 'hedge');
    expect(photosPerHour.value).toBeCloseTo(2 * (6 + 10), 9);
  });

  it('says where too little was recorded to tell', async () => {
    expect((await told('--from', 'short.json')).err).toMatch(/note: short\.json: too little was recorded/);
  });

  // Of 1, 2 and 3 MB: 2 MB, standard deviation 1; an empty file and what lies in a folder within are none.
  it("measures the owner's own photos", async () => {
    const { measured, photoMB, cardDays, err } = await told('--photos', 'photos', '--photos-per-hour', '10');
    expect(measured).toEqual({ photos: 3, mean: 2, deviation: 1, low: 1, high: 3 });
    // The mean, by t with 2 degrees (2.92): 2 MB / and * exp(2.92 * 1 / 2 / sqrt(3)).
    expect(photoMB).toEqual({ value: 2, low: expect.closeTo(0.861, 3), high: expect.closeTo(4.646, 3) });
    expect(cardDays.value).toBeCloseTo(16_000 / 2 / 240, 9);
    expect(err).toContain('4.jpg: the file is empty');
  });

  // Half of 0.1 and half of 0.3 MB: deviation 0.1001, of the mean of 400 0.005; 1.6487 times that is 4.1 %.
  it('is in doubt of the mean of many photos, not of each', async () => {
    const { photoMB, cardDays } = await told('--photos', 'many', '--photos-per-hour', '10');
    expect(photoMB.low).toBeCloseTo(0.2 / 1.0421, 4);
    expect(photoMB.high).toBeCloseTo(0.2 * 1.0421, 4);
    expect(cardDays.high / cardDays.low).toBeCloseTo(1.0421 ** 2, 3);
  });

  it('takes a single photo to tell nothing of the spread, and what is no picture for none', async () => {
    const { measured, photoMB, assumed, err } = await told('--photos', 'single');
    expect(measured).toMatchObject({ photos: 1, mean: 3.5, deviation: null });
    expect(photoMB).toEqual({ value: 3.5, low: 2, high: 5 });
    expect(assumed.join()).toContain('from the only one given');
    expect(err).toMatch(/cut\.jpg: this is no picture.*\n.*note\.jpg: this is no picture/);
  });

  it('warns of a power bank that switches itself off, only at a small draw', async () => {
    const { out } = await perchmark('budget', '--camera', 'small-draw.json');
    expect(out).toMatch(/power\s+banks\s+take\s+a\s+draw\s+as\s+small\s+as\s+0\.1\s+A.*common\s+practice/s);
    expect((await told()).notes.join()).not.toContain('switch themselves off');
  });

  it('carries the usual cautions and leaves the word to the maker and local rules', async () => {
    const { out } = await perchmark('budget');
    expect(out).toMatch(/below\s+freezing/);
    expect(out).toMatch(/papers\s+of\s+its\s+maker\s+and\s+the\s+rules/);
  });

  it.each<[string[], RegExp]>([
    [['--site', 'hedge'], /--site: expected together with --from/],
    [['--from', 'tune.json', '--photos-per-hour', '3'], /'--from <file>' cannot be used with/],
    [['--from', 'two.json'], /two\.json: expected one site, found 2 \("hedge", one without a name\)/],
    [['--from', 'two.json', '--site', 'hedg'], /--site: expected one of "hedge".*did you mean 'hedge'/],
    [['--from', 'never.json'], /never\.json: recommended: expected a rate of false triggers, found none/],
    [
      ['--from', 'camera-of-mine.json'],
      /camera-of-mine\.json: expected what perchmark tune --json or .* found another file; make it with: perchmark tune/,
    ],
    [['--from', 'scored.json'], /scored\.json: expected what perchmark tune --json/],
    [['--from', 'odd.json'], /odd\.json: sites\[0\]\.recommended/],
    [['--from', 'tiny.json'], /tiny\.json: sites\[0\]\.recommended\.score\.watchedHours/],
    [['--from', 'huge.json'], /huge\.json: sites\[0\]\.recommended\.score\.falsePerHour/],
    [
      ['--from', 'turned.json'],
      /turned\.json: sites\[0\]\.recommended\.score\.falsePerHour.*from low to high/,
    ],
    [['--from', 'nowhere.json'], /nowhere\.json: there is no such file/],
    [['--photos', 'nowhere'], /nowhere: there is no such folder; expected a folder of photos/],
    [['--photos', 'camera.json'], /camera\.json: this is a file; expected a folder of photos/],
    [['--photos', 'empty'], /empty: the folder holds no photos \(.*\) nor anything else; give the folder/],
    [['--photos', 'junk'], /junk: the folder holds no photos/],
    [['--photos-per-hour', '-1'], /Expected a number of photos from 0/],
    [['--hours-out', '25'], /Expected a number of hours from 0\.01 to 24/],
  ])('refuses %j in one line', async (args, message) => {
    const { code, out, err } = await perchmark('budget', ...args);
    expect({ code, out, lines: err.trim().split('\n').length }).toEqual({ code: 2, out: '', lines: 1 });
    expect(err).toMatch(message);
  });
});
