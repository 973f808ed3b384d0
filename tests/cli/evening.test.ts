import { createHash } from 'node:crypto';
import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { smallCamera } from '../support/clips.js';
import { commandIn } from '../support/command.js';
import { writePhotos } from '../support/photos.js';

const folder = mkdtempSync(join(tmpdir(), 'evening-'));
afterAll(() => rmSync(folder, { recursive: true }));
const perchmark = commandIn(folder);
const at = (name: string) => join(folder, name);
const write = (name: string, value: unknown) =>
  writeFileSync(at(name), typeof value === 'string' ? value : JSON.stringify(value));

/** Ten hours from 06:00 on, a photo of nothing every 10 minutes, and one of an animal on the hour. */
const taken = Array.from({ length: 61 }, (_, i) => {
  const minutes = 360 + 10 * i;
  const time = `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}:00`;
  return {
    name: `${i < 30 ? '100' : '101'}/IMG_${i}.JPG`,
    time: `2026-05-09 ${time}`,
    seen: i % 6 === 0 ? 'animal' : 'nothing',
  };
});
const rows = (marks: readonly { name: string; seen: string }[]) =>
  ['photo,seen', ...marks.map(({ name, seen }) => `${name},${seen}`), ''].join('\n');

const between = (value: number, low: number, high: number) => ({ value, low, high });
const tuned = (site: string | null, falsePerHour: object | null, tells = 'hint') => ({
  site,
  tells,
  clips: [],
  recommended: {
    settings: {},
    score: { falsePerHour: null },
    unseen: { how: 'blocks of time', falsePerHour },
  },
});
const stretch = (from: string, to: string, conditions: string[], falsePerHour: object | null) => ({
  from: `2026-05-09T${from}:00+01:00`,
  to: `2026-05-09T${to}:00+01:00`,
  conditions,
  controls: {},
  falsePerHour,
  photosPerHour: falsePerHour,
});
/** Takes one photo a trigger. */
const one = ['--camera', 'camera.json'];

beforeAll(async () => {
  await writePhotos(at('DCIM'), Object.fromEntries(taken.map(({ name, time }) => [name, time])));
  write('camera.json', smallCamera);
  write('marks.csv', rows(taken));
  write('half.csv', rows(taken.slice(0, 31)));
  write('people.csv', rows(taken.map((photo, i) => (i % 10 === 3 ? { ...photo, seen: 'person' } : photo))));
  write('tune.json', { sites: [tuned('hedge', between(5, 3, 8))], tells: 'hint' });
  write('quiet.json', {
    sites: [tuned('hedge', between(1, 0.5, 2)), tuned('pond', between(30, 20, 44))],
    tells: 'hint',
  });
  write('short.json', { sites: [tuned(null, between(5, 3, 8), 'too little')], tells: 'too little' });
  write('upside.json', { sites: [tuned(null, between(5, 8, 3))] });
  write('plan.json', {
    sites: [
      {
        site: 'hedge',
        stretches: [
          stretch('05:00', '10:00', ['calm'], between(5, 3, 8)),
          stretch('10:00', '14:00', ['wind', 'rain'], between(1, 0.6, 1.6)),
          stretch('14:00', '20:00', ['low light'], null),
        ],
        week: {},
      },
    ],
  });
});

async function told(...args: string[]) {
  const { code, out, err } = await perchmark('evening', 'DCIM', ...args, '--json');
  expect({ code, err: code === 0 ? '' : err }).toEqual({ code: 0, err: '' });
  return JSON.parse(out);
}

describe('evening, first', () => {
  it('writes a sheet of all photos, and marks to be filled in that it reads again', async () => {
    const before = fingerprints();
    const { code, out } = await perchmark('evening', 'DCIM');
    expect(code).toBe(0);
    expect(out).toMatch(/^61 photos, Sat 9 May 2026, 06:00-16:00\./);
    expect(out).toContain('perchmark evening DCIM --marks DCIM-marks.csv');
    expect(readFileSync(at('DCIM-sheet.html'), 'utf8').match(/<img src="data:image\/jpeg/g)).toHaveLength(61);
    expect(readFileSync(at('DCIM-marks.csv'), 'utf8').split('\n').slice(0, 3)).toEqual([
      'photo,seen',
      '100/IMG_0.JPG,',
      '100/IMG_1.JPG,',
    ]);
    const empty = ['--marks', 'DCIM-marks.csv'];
    expect(await told(...empty, '--sheet', 'empty.html')).toMatchObject({ unmarked: 61, precision: null });
    const { code: refused, err } = await perchmark('evening', 'DCIM', ...empty, '--report', 'none.html');
    expect(refused).toBe(2);
    expect(err).toMatch(
      /DCIM-marks\.csv: expected marks, found none of 61 photos marked; give the file that "Save marks"/,
    );
    expect(readdirSync(folder)).not.toContain('none.html');
    expect(fingerprints()).toEqual(before);
  });

  it('draws no photo again that it has drawn', async () => {
    await perchmark('evening', 'DCIM', '--sheet', 'again.html');
    const kept = join(folder, 'cache', 'thumbnails');
    const times = readdirSync(kept, { recursive: true, encoding: 'utf8' }).map(
      (name) => statSync(join(kept, name)).mtimeMs,
    );
    await perchmark('evening', 'DCIM', '--sheet', 'again.html');
    expect(
      readdirSync(kept, { recursive: true, encoding: 'utf8' }).map(
        (name) => statSync(join(kept, name)).mtimeMs,
      ),
    ).toEqual(times);
  });

  it('never puts empty marks in the place of filled ones', async () => {
    mkdirSync(at('filled'), { recursive: true });
    write('filled/a-marks.csv', rows(taken));
    const { code, err } = await perchmark('evening', 'DCIM', '--sheet', 'filled/a-sheet.html');
    expect(code).toBe(2);
    expect(err).toMatch(/filled\/a-marks\.csv: there are marks in this file already.*go on with --marks/);
    expect(readFileSync(at('filled/a-marks.csv'), 'utf8')).toBe(rows(taken));
    expect(readdirSync(at('filled'))).toEqual(['a-marks.csv']);
  });

  it('never writes over a photo, not even by a link and with --force', async () => {
    const before = fingerprints();
    symlinkSync(at('DCIM/100/IMG_3.JPG'), at('link.html'));
    const { code, err } = await perchmark('evening', 'DCIM', '--sheet', 'link.html', '--force');
    expect(code).toBe(2);
    expect(err).toMatch(/--sheet link\.html: this is DCIM\/100\/IMG_3\.JPG, which this run reads/);
    expect(fingerprints()).toEqual(before);
  });
});

describe('evening, with marks', () => {
  it('counts, with the share of animals and its interval', async () => {
    const evening = await told('--marks', 'marks.csv');
    expect(evening).toMatchObject({
      photos: 61,
      animal: 11,
      nothing: 50,
      person: 0,
      unmarked: 0,
      verdict: null,
    });
    expect(evening.precision).toMatchObject({ n: 61 });
    // The last photo, at 16:00:00, is of an eleventh hour.
    expect(evening.byHour).toHaveLength(11);
    expect(evening.byHour[1]).toMatchObject({ animal: 1, nothing: 5, hours: 1, promised: null });
    expect(evening.out).toMatchObject({
      from: '2026-05-09T06:00:00',
      until: '2026-05-09T16:00:00',
      hours: 10,
    });
  });

  it('counts what is not marked apart, and says so', async () => {
    expect(await told('--marks', 'half.csv')).toMatchObject({ animal: 6, nothing: 25, unmarked: 30 });
    expect((await perchmark('evening', 'DCIM', '--marks', 'half.csv')).out).toMatch(
      /30 photos not marked count for nothing/,
    );
  });

  it.each<[string, string[], string]>([
    ['as promised', ['tune.json'], 'held'],
    ['less than was promised', ['quiet.json', '--site', 'pond'], 'better'],
    ['more than was promised', ['quiet.json', '--site', 'hedge'], 'worse'],
    ['nothing promised', ['short.json'], 'too little to tell'],
  ])('holds them against tune: %s', async (_, promised, verdict) => {
    const evening = await told('--marks', 'marks.csv', ...one, '--promised', ...promised);
    expect(evening.verdict).toBe(verdict);
    expect(evening.promised).toMatchObject({ kind: 'tune' });
  });

  it.each([
    ['neither kept nor broken', between(5, 0.5, 40), null, 'promise too wide'],
    ['broken all the same', between(300, 20, 700), 'better', null],
  ])('of a promise as wide as that: %s', async (_, range, verdict, withheld) => {
    write('wide.json', { sites: [{ ...tuned('hedge', range), photosPerTrigger: 1 }] });
    const evening = await told('--marks', 'marks.csv', ...one, '--promised', 'wide.json');
    expect(evening).toMatchObject({ verdict, promised: { withheld, hoursToTell: null } });
  });

  it('says from where to where a promise reaches that is too wide', async () => {
    write('wide.json', { sites: [{ ...tuned('hedge', between(5, 0.5, 40)), photosPerTrigger: 1 }] });
    const { out } = await perchmark('evening', 'DCIM', '--marks', 'marks.csv', '--promised', 'wide.json');
    expect(out.replaceAll(/\s+/g, ' ')).toMatch(
      /The promise was too wide to be kept or broken\. 5(\.\d)? \(.*\) photos of nothing an hour came over 10 hours, where anything from 0\.5 to 40 was promised\./,
    );
  });

  it('takes a promise in triggers for as many photos as the camera takes each', async () => {
    write('burst.json', { ...smallCamera, burst: { photos: 3, interval: 1 } });
    const evening = await told('--marks', 'marks.csv', '--camera', 'burst.json', '--promised', 'tune.json');
    expect(evening.promised.nothingPerHour).toEqual(between(15, 9, 24));
  });

  it('takes it for as many as the promise was made for, where no camera is given', async () => {
    write('told.json', { sites: [{ ...tuned('hedge', between(5, 3, 8)), photosPerTrigger: 1 }] });
    const evening = await told('--marks', 'marks.csv', '--promised', 'told.json');
    expect(evening).toMatchObject({ verdict: 'held', promised: { photosPerTrigger: 1, withheld: null } });
  });

  it('takes it for as many as the photos show, where nobody says', async () => {
    const evening = await told('--marks', 'marks.csv', '--promised', 'tune.json');
    expect(evening).toMatchObject({ verdict: 'held', promised: { photosPerTrigger: 1, withheld: null } });
    expect(evening.assumed.join()).toContain('1 photo a trigger, as nearly all bunches of photos show');
  });

  it('tells no verdict where the photos speak against as many as it was made for', async () => {
    write('two.json', { sites: [{ ...tuned('hedge', between(5, 3, 8)), photosPerTrigger: 2 }] });
    const evening = await told('--marks', 'marks.csv', '--promised', 'two.json');
    expect(evening).toMatchObject({ verdict: null, promised: { withheld: 'other photos a trigger' } });
    const { out } = await perchmark('evening', 'DCIM', '--marks', 'marks.csv', '--promised', 'two.json');
    expect(out).toContain('Not held against the promise yet. What was promised is for 2 photos a trigger');
    expect(out).toMatch(/name\s+the\s+camera\s+that\s+took\s+them\s+with\s+--camera/);
  });

  it('of a plan in UTC tells no verdict until it is said what the clock shows', async () => {
    const utc = (from: string, to: string, falsePerHour: object) => ({
      ...stretch(from, to, ['calm'], falsePerHour),
      from: `2026-05-09T${from}:00Z`,
      to: `2026-05-09T${to}:00Z`,
    });
    const stretches = [utc('05:00', '09:00', between(5, 3, 8)), utc('09:00', '15:00', between(1, 0.6, 1.6))];
    write('utc.json', { sites: [{ site: 'hedge', photosPerTrigger: 1, stretches }] });
    const args = ['--marks', 'marks.csv', '--promised', 'utc.json'];
    const open = await told(...args);
    expect(open).toMatchObject({ verdict: null, byStretch: null, promised: { withheld: 'clock not known' } });
    expect((await perchmark('evening', 'DCIM', ...args)).out).toMatch(/--clock\s\+01:00/);
    const starts = async (clock: string) =>
      (await told(...args, '--clock', clock)).byStretch.map(({ from }: { from: string }) =>
        from.slice(11, 16),
      );
    expect(await starts('+01:00')).toEqual(['06:00', '10:00']);
    expect(await starts('Z')).toEqual(['06:00', '09:00', '15:00']);
    expect(await starts('-02:00')).toEqual(['06:00', '07:00', '13:00']);
  });

  it('holds them against the stretches of a plan, and says which to record next', async () => {
    const evening = await told('--marks', 'marks.csv', ...one, '--promised', 'plan.json');
    expect(evening.verdict).toBe('worse');
    expect(evening.byStretch.map(({ hours }: { hours: number }) => hours)).toEqual([
      expect.closeTo(4 - 30 / 3600),
      4,
      2,
    ]);
    expect(evening.byCondition.map(({ conditions }: { conditions: string }) => conditions)).toEqual([
      'calm',
      'rain, wind',
      'low light',
    ]);
    expect(evening.promised).toMatchObject({
      kind: 'plan',
      hours: expect.closeTo(8 - 30 / 3600),
      hoursWithout: 2,
    });
    expect(evening.next).toMatchObject({ from: '2026-05-09T10:00:00', why: 'came oftener than promised' });
  });

  it('tells no verdict that turns on photos not marked', async () => {
    write('few.csv', rows(taken.slice(0, 8)));
    const evening = await told('--marks', 'few.csv', ...one, '--promised', 'tune.json');
    expect(evening).toMatchObject({ verdict: 'too little to tell', promised: { untold: 52 } });
  });

  it('gives as a range what photos not marked leave open', async () => {
    write('animals.csv', rows(taken.filter(({ seen }) => seen === 'animal')));
    const evening = await told(
      '--marks',
      'animals.csv',
      ...one,
      '--promised',
      'quiet.json',
      '--site',
      'pond',
    );
    // 50 photos of 10 hours are not marked.
    expect(evening.nothingPerHour.low).toBe(0);
    expect(evening.nothingPerHour.high).toBeGreaterThan(5);
    const args = ['--marks', 'animals.csv', ...one, '--promised', 'quiet.json', '--site', 'pond'];
    const { out } = await perchmark('evening', 'DCIM', ...args);
    expect(out).toMatch(/0–\S+\s+photos\s+of\s+nothing\s+an\s+hour\s+\(whatever\s+the\s+50\s+photos\s+show/);
    expect(out).not.toMatch(/0 \(0/);
  });

  it('tells nothing of photos that only mark the ends', async () => {
    await writePhotos(at('ends'), { 'a.jpg': '2026-05-09 06:00:00', 'b.jpg': '2026-05-09 06:31:00' });
    write('ends.csv', 'photo,seen\na.jpg,nothing\nb.jpg,nothing\n');
    const args = [
      'evening',
      'ends',
      '--marks',
      'ends.csv',
      ...one,
      '--promised',
      'quiet.json',
      '--site',
      'pond',
    ];
    expect(JSON.parse((await perchmark(...args, '--json')).out)).toMatchObject({
      verdict: 'too little to tell',
      out: null,
      nothingPerHour: null,
    });
    expect((await perchmark(...args)).out).toContain('Too little to tell. The photos alone do not tell how');
  });

  it('counts over the hours that are given', async () => {
    const evening = await told('--marks', 'marks.csv', '--from', '05:00', '--until', '2026-05-09 10:00');
    expect(evening).toMatchObject({
      photos: 25,
      outside: 36,
      out: { hours: 5, said: { from: true, until: true } },
    });
  });

  it('names no photo in JSON', async () => {
    expect(JSON.stringify(await told('--marks', 'people.csv', '--promised', 'plan.json'))).not.toContain(
      'IMG_',
    );
  });

  it('writes a sheet with the marks in it, and leaves the marks as they are', async () => {
    const { code } = await perchmark('evening', 'DCIM', '--marks', 'people.csv', '--sheet', 'marked.html');
    expect(code).toBe(0);
    const sheet = readFileSync(at('marked.html'), 'utf8');
    expect(sheet.match(/data-seen="person"/g)).toHaveLength(6);
    expect(sheet.match(/<img src="data:/g)).toHaveLength(61);
  });

  it('leaves people blank in the sheet where that is asked, and their marks in it', async () => {
    const without = ['--sheet', 'without.html', '--without-people'];
    const { code } = await perchmark('evening', 'DCIM', '--marks', 'people.csv', ...without);
    expect(code).toBe(0);
    const sheet = readFileSync(at('without.html'), 'utf8');
    expect(sheet.match(/<img src="data:/g)).toHaveLength(55);
    expect(sheet.match(/person, not shown/g)).toHaveLength(6);
    expect(sheet).toContain('"person"');
  });

  it('never shows people in the report, nor what nobody marked', async () => {
    const eight = taken.slice(0, 8).map((photo, i) => (i === 5 ? { ...photo, seen: 'person' } : photo));
    write('some.csv', rows(eight.filter((_, i) => i !== 6)));
    const { code } = await perchmark('evening', 'DCIM', '--marks', 'some.csv', '--report', 'report.html');
    expect(code).toBe(0);
    const page = readFileSync(at('report.html'), 'utf8');
    const shown = [...page.matchAll(/<figcaption>[^<]*IMG_(\d+)\.JPG/g)].map(([, number]) => Number(number));
    expect(shown).toEqual([0, 1, 2, 3, 4, 7]);
  });
});

describe('evening, in a project', () => {
  const home = at('project');
  const inProject = commandIn(home, join(folder, 'cache'));
  const evenings = [
    { folder: '../timeless', site: 'pond' },
    { folder: '../DCIM', site: 'hedge', marks: 'marks.csv', promised: '../quiet.json' },
  ];
  const sites = [
    { site: 'hedge', clips: ['clip'], camera: '../camera.json' },
    { site: 'pond', clips: ['other'] },
  ];

  beforeAll(() => {
    mkdirSync(home);
    write('project/perchmark.json', { version: 1, sites, evenings });
  });

  it('takes the last evening, and puts its marks where the project wants them', async () => {
    const { code, out, err } = await inProject('evening');
    expect(err).toContain('from perchmark.json: evenings[1]: folder ../DCIM, camera ../camera.json');
    expect(code).toBe(0);
    expect(out).toMatch(/^61 photos/);
    expect(readFileSync(at('project/marks.csv'), 'utf8')).toContain('100/IMG_0.JPG,\n');
  });

  it('takes marks, promise, site and camera once there are marks, by whichever name the folder has', async () => {
    write('project/marks.csv', rows(taken));
    const { code, out } = await inProject('evening', join(folder, 'DCIM', '.'), '--json');
    expect(code).toBe(0);
    expect(JSON.parse(out)).toMatchObject({
      animal: 11,
      verdict: 'worse',
      promised: { site: 'hedge', nothingPerHour: between(1, 0.5, 2) },
    });
  });

  it('is held against the last plan where it names no promise of its own', async () => {
    const [pond, { promised: _, ...hedge }] = evenings as [object, Record<string, string>];
    write('project/perchmark.json', {
      version: 1,
      sites,
      plans: ['no-longer-there.json', '../quiet.json'],
      evenings: [pond, hedge],
    });
    const { out } = await inProject('evening', '--json');
    expect(JSON.parse(out)).toMatchObject({
      verdict: 'worse',
      promised: { site: 'hedge', nothingPerHour: between(1, 0.5, 2) },
    });
    write('project/perchmark.json', { version: 1, sites, evenings });
  });

  it('lets what is given by hand go first', async () => {
    const { out } = await inProject('evening', '--promised', '../quiet.json', '--site', 'pond', '--json');
    expect(JSON.parse(out)).toMatchObject({ verdict: 'better', promised: { site: 'pond' } });
  });

  it('is not needed, but without it a folder is', async () => {
    const { code, err } = await perchmark('evening');
    expect(code).toBe(2);
    expect(err).toMatch(
      /evening: expected a folder of photos, found none, nor an evening in perchmark\.json/,
    );
  });
});

describe('evening refuses in one line', () => {
  it.each<[string, string[], RegExp]>([
    [
      '--site alone',
      ['--marks', 'marks.csv', '--site', 'hedge'],
      /--site: expected together with --promised/,
    ],
    ['--promised without marks', ['--promised', 'tune.json'], /--promised: expected together with --marks/],
    [
      '--without-people without marks',
      ['--sheet', 's.html', '--without-people'],
      /expected together with --marks/,
    ],
    ['a sheet that is no page', ['--sheet', 'sheet.jpg'], /--sheet: expected the name of an HTML file/],
    [
      'a promise that is none',
      ['--marks', 'marks.csv', '--promised', 'camera.json'],
      /camera\.json: expected what perchmark tune --json or perchmark plan --json printed, found another/,
    ],
    [
      'several sites',
      ['--marks', 'marks.csv', '--promised', 'quiet.json'],
      /expected one site, found 2 \("hedge", "pond"\)/,
    ],
    [
      'a site that is not there',
      ['--marks', 'marks.csv', '--promised', 'quiet.json', '--site', 'ponb'],
      /did you mean 'pond'/,
    ],
    [
      'a time that is none',
      ['--marks', 'marks.csv', '--from', '25:00'],
      /--from: expected a time by the camera's own clock/,
    ],
    ['a time with a zone', ['--marks', 'marks.csv', '--until', '2026-05-09T10:00Z'], /without a zone/],
    [
      'an end before the beginning',
      ['--marks', 'marks.csv', '--from', '12:00', '--until', '10:00'],
      /--until: expected a time after that of --from, "12:00", found "10:00"/,
    ],
    [
      'a beginning after the last photo',
      ['--marks', 'marks.csv', '--from', '2026-05-10 06:00'],
      /--from: expected a time before the last photos, found "2026-05-10 06:00"; the photos are of 2026-05-09 06:00 to 2026-05-09 16:00/,
    ],
    [
      'an end before the first photo',
      ['--marks', 'marks.csv', '--until', '2026-05-08 22:00'],
      /--until: expected a time after the first photo, found "2026-05-08 22:00"; the photos are of/,
    ],
    [
      'a clock that is none',
      ['--marks', 'marks.csv', '--promised', 'tune.json', '--clock', 'BST'],
      /--clock: expected what the camera's clock is ahead of UTC/,
    ],
    ['--clock alone', ['--marks', 'marks.csv', '--clock', 'Z'], /--clock: expected together with --promised/],
    [
      'a promise whose range is upside down',
      ['--marks', 'marks.csv', '--promised', 'upside.json'],
      /: expected a value from low to high, found/,
    ],
    [
      'hours without a photo',
      ['--marks', 'marks.csv', '--from', '17:00', '--until', '18:00'],
      /found none; they are of 2026-05-09 06:00 to 2026-05-09 16:00/,
    ],
    ['marks that are not there', ['--marks', 'none.csv'], /none\.csv: there is no such file/],
  ])('%s', async (_, args, line) => {
    const { code, out, err } = await perchmark('evening', 'DCIM', ...args);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err.trim().split('\n')).toHaveLength(1);
    expect(err).toMatch(line);
  });

  it('hours of photos that tell no time', async () => {
    await writePhotos(at('no-time'), { 'a.jpg': null });
    write('no-time.csv', 'photo,seen\na.jpg,nothing\n');
    const hours = ['--from', '2026-05-09 06:00', '--until', '2026-05-09 08:00'];
    const { code, err } = await perchmark('evening', 'no-time', '--marks', 'no-time.csv', ...hours);
    expect(code).toBe(2);
    expect(err).toMatch(/^[^\n]*--from: expected photos that tell their time, found none in no-time/);
  });

  it('tells nothing by hour of photos without a time, and says so', async () => {
    await writePhotos(at('timeless'), { 'a.jpg': null, 'b.jpg': null });
    write('timeless.csv', 'photo,seen\na.jpg,animal\nb.jpg,nothing\n');
    const args = [
      'evening',
      'timeless',
      '--marks',
      'timeless.csv',
      '--promised',
      'tune.json',
      '--report',
      't.html',
    ];
    const { code, out } = await perchmark(...args);
    expect(code).toBe(0);
    expect(out).toMatch(/2 of 2 photos tell no time/);
    expect(out).not.toContain('nothing/hour');
    expect(readFileSync(at('t.html'), 'utf8')).toContain('nothing can be told by hour');
  });
});

function fingerprints(): string[] {
  return taken.map(({ name }) => {
    const file = at(`DCIM/${name}`);
    return `${statSync(file).mtimeMs} ${createHash('sha256').update(readFileSync(file)).digest('hex')}`;
  });
}
