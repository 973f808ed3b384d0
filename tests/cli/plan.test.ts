import { existsSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import ICAL from 'ical.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { schemaNamed } from '../../src/jobs/schemas.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { commandIn } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'plan-'));
afterAll(() => rmSync(folder, { recursive: true }));
const perchmark = commandIn(folder);
const write = (name: string, text: string) => writeFileSync(join(folder, name), text);
const there = (name: string) => existsSync(join(folder, name));

/** Frames from one visit to the next; each takes ten. */
const EVERY = 25;
const place = { latitude: 51.5, longitude: -3 };

async function clip(name: string, visits: number, manifest: object): Promise<void> {
  const frames = drawFrames(
    visits * EVERY,
    (k) => {
      const at = (k % EVERY) - 10;
      return at >= 0 && at < 10 ? { x: 10 + 3 * at, y: 20, size: 10, level: 160 } : null;
    },
    name,
  );
  const labels = {
    version: 1,
    visits: Array.from({ length: visits }, (_, v) => ({
      start: (v * EVERY + 9) / 5,
      end: (v * EVERY + 20) / 5,
    })),
  };
  await writeClip(join(folder, name), frames, labels, { rate: 5, ...manifest });
}

const hour = (h: number) => new Date(Date.UTC(2027, 4, 4, h)).toISOString().replace('.000Z', '+00:00');
const forecast = (rows: readonly string[]) => ['time,wind,rain,cloud', ...rows].join('\n');

beforeAll(async () => {
  await clip('hedge', 12, { site: 'hedge', place, conditions: { wind: 1, rain: 0, light: 20_000 } });
  await clip('later', 3, { site: 'hedge', place, conditions: { wind: 1, rain: 0, light: 20_000 } });
  await clip('path', 10, { site: 'path', conditions: { wind: 1, rain: 0, light: 20_000 } });
  await clip('short', 3, { site: 'short', conditions: { wind: 1, rain: 0, light: 20_000 } });
  await clip('wet', 12, { site: 'wet', conditions: { wind: 1, rain: 5, light: 20_000 } });
  write('camera.json', JSON.stringify(smallCamera));
  write('day.csv', forecast(Array.from({ length: 24 }, (_, h) => `${hour(h)},1,${h === 12 ? 3 : 0},40`)));
  write('late.csv', forecast([`${hour(8)},1,0,40`, `${hour(10)},1,0,40`]));
});

const base = ['--forecast', 'day.csv', '--camera', 'camera.json'];

describe('plan', () => {
  it('tells what to set, and gives a document as its schema says', async () => {
    const { code, out, err } = await perchmark('plan', 'hedge', ...base, '--recorded-only', '--json');
    expect([code, err.includes('fault')]).toEqual([0, false]);
    const document: unknown = JSON.parse(out);
    const parsed = (await schemaNamed('plan')).parse(document);
    expect(parsed).toEqual(document);
    expect(document).toMatchObject({
      hours: 24,
      sites: [{ site: 'hedge', tells: 'hint', week: { walks: 0, worthIt: false } }],
    });
  });

  it('says nothing of a share of visits where there are none', async () => {
    const frames = drawFrames(20, () => null, 'none');
    await writeClip(join(folder, 'still'), frames, { version: 1, visits: [] }, { rate: 5 });
    const { code, out } = await perchmark('plan', 'still', ...base, '--recorded-only');
    expect(code).toBe(0);
    expect(out).toMatch(/\nIn all 0 \(/);
  });

  it('chooses within an allowance, and says where that cannot be told or is not kept', async () => {
    const asked = [...base, '--recorded-only', '--json', '--false-per-hour'];
    const { code, out } = await perchmark('plan', 'hedge', ...asked, '600');
    expect(code).toBe(0);
    const document: unknown = JSON.parse(out);
    expect((await schemaNamed('plan')).parse(document)).toEqual(document);
    expect(document).toMatchObject({ sites: [{ allowance: { falsePerHour: 600, kept: null } }] });
    const { notes } = (document as { sites: { notes: string[] }[] }).sites[0]!;
    expect(notes.join('\n')).toMatch(/cannot be told of .*moderate rain.*: that was neither recorded nor/);
    const text = (await perchmark('plan', 'hedge', ...base, '--recorded-only', '--false-per-hour', '600'))
      .out;
    expect(text.replace(/\s+/g, ' ')).toContain(
      'no more than 600 times in any hour: whether that is kept cannot be told of all of them.',
    );
    const none = JSON.parse((await perchmark('plan', 'hedge', ...asked, '0')).out) as {
      sites: { notes: string[] }[];
    };
    expect(none.sites[0]!.notes.join()).toContain('none at all can never be shown to be kept');
  });

  it.each([
    [['--false-per-hour', '6', '--photos-per-day', '50', '--hours-out', '16'], 'expected one of them'],
    [['--photos-per-day', '50'], 'add --hours-out'],
    [['--hours-out', '16'], 'expected together with --photos-per-day'],
  ])('refuses %j', async (words, message) => {
    const { code, err } = await perchmark('plan', 'hedge', ...base, ...words);
    expect([code, err]).toEqual([2, expect.stringContaining(message)]);
  });

  it('covers every hour once, and promises what evening needs of each stretch', async () => {
    const { out } = await perchmark('plan', 'hedge', ...base, '--recorded-only', '--json');
    const { sites, from, to } = JSON.parse(out) as {
      from: string;
      to: string;
      sites: {
        stretches: {
          from: string;
          to: string;
          photosPerHour: unknown;
          conditions: string[];
          controls: unknown;
        }[];
      }[];
    };
    const { stretches } = sites[0]!;
    expect(stretches[0]!.from).toBe(from);
    expect(stretches.at(-1)!.to).toBe(to);
    stretches.slice(1).forEach((stretch, s) => {
      expect(stretch.from).toBe(stretches[s]!.to);
    });
    const calm = stretches.find(({ conditions }) => conditions.includes('calm'));
    expect(calm?.photosPerHour).toMatchObject({
      value: expect.any(Number),
      low: expect.any(Number),
      high: expect.any(Number),
    });
  });

  it('simulates rain that nobody recorded, marks it, and finds the hours too dark', async () => {
    const { out } = await perchmark('plan', 'hedge', ...base, '--json');
    const { stretches, limit, hours } = (
      JSON.parse(out) as {
        sites: {
          limit: { tells: string };
          hours: { tooDark: number };
          stretches: {
            from: string;
            conditions: string[];
            controls: unknown;
            source: string | null;
            recall: unknown;
          }[];
        }[];
      }
    ).sites[0]!;
    expect(stretches.find(({ conditions }) => conditions.includes('rain'))?.source).toBe('simulated');
    expect(stretches.find(({ conditions }) => conditions.includes('calm'))?.source).toBe('recorded');
    expect(limit.tells).not.toBe('too little');
    expect(stretches.filter(({ controls }) => controls === null).every(({ recall }) => recall === null)).toBe(
      true,
    );
    // At 51.5 degrees north in May the sun is below -12 degrees for some five hours.
    if (limit.tells === 'a limit') expect(hours.tooDark).toBeGreaterThanOrEqual(4);
  });

  it('says on which stretch simulated weather rests where recorded figures are of other footage too', async () => {
    const notesOf = async (...clips: string[]) => {
      const { out } = await perchmark('plan', ...clips, ...base, '--json');
      return (JSON.parse(out) as { sites: { notes: string[] }[] }).sites[0]!.notes.join(' ');
    };
    expect(await notesOf('hedge', 'later')).toMatch(
      /Simulated figures are of hedge from 0:00 to 1:00 alone, with 12 visits, and recorded ones of whole clips/,
    );
    expect(await notesOf('hedge')).not.toMatch(/Simulated figures are of/);
  });

  it('tells nothing of hours that are drier than what was recorded, and sends nobody walking for them', async () => {
    const { out } = await perchmark('plan', 'wet', ...base, '--json');
    const { stretches, hours, week, notes } = (
      JSON.parse(out) as {
        sites: {
          stretches: {
            conditions: string[];
            source: string | null;
            recall: unknown;
            photosPerHour: unknown;
          }[];
          hours: object;
          week: object;
          notes: string[];
        }[];
      }
    ).sites[0]!;
    const nothing = { source: null, recall: null, photosPerHour: null };
    expect(stretches).toMatchObject([nothing, { conditions: ['rain'], source: 'recorded' }, nothing]);
    expect(hours).toEqual({ ofUse: 1, tooDark: 0, notTold: 23 });
    expect(week).toMatchObject({ walks: 0, worthIt: false });
    expect(notes.join()).toMatch(/^Nobody recorded calm here.*record a clip then/);
  });

  it('says in one line how to add the place where none is known, and shows several sites in lines of at most 80', async () => {
    const { out } = await perchmark('plan', 'hedge', 'path', 'short', ...base, '--recorded-only');
    expect(out.replaceAll('\n', ' ')).toMatch(
      / {2}path: Darkness is not reckoned: [^:]*; say it in clip\.json \("place": .*path: Leave it at/,
    );
    expect(out).toMatch(/^hedge: Leave it at/m);
    expect(out).toMatch(/^short: Too little to tell/m);
    for (const line of out.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
  });

  it('writes a report, a calendar, settings and cards, and the same bytes again', async () => {
    const outputs = ['--report', 'r.html', '--calendar', 'w.ics', '--write', 'set'];
    const first = await perchmark('plan', 'hedge', ...base, '--recorded-only', ...outputs);
    expect([first.code, first.err]).toEqual([0, expect.not.stringContaining('fault')]);
    const read = () =>
      ['r.html', 'w.ics', 'set/hedge.json', 'set/hedge-card.html'].map((name) =>
        readFileSync(join(folder, name), 'utf8'),
      );
    const before = read();
    expect((await perchmark('plan', 'hedge', ...base, '--recorded-only', ...outputs)).code).toBe(0);
    expect(read()).toEqual(before);
    expect(before[0]).toMatch(/<h2>hedge<\/h2>/);
    const calendar = new ICAL.Component(ICAL.parse(before[1]!));
    expect(calendar.getAllSubcomponents('vevent')).toHaveLength(1);
    expect(
      (await perchmark('replay', 'hedge', '--camera', 'camera.json', '--settings', 'set/hedge.json')).code,
    ).toBe(0);
  });

  it('writes neither calendar nor card where too little can be told, and says so', async () => {
    const { code, err } = await perchmark(
      'plan',
      'short',
      ...base,
      '--recorded-only',
      '--calendar',
      'no.ics',
      '--write',
      'none',
    );
    expect(code).toBe(0);
    expect(err).toMatch(/no.ics: too little to tell/);
    expect(there('no.ics') || there('none/short-card.html')).toBe(false);
  });

  it('takes the spots of a project with their cameras, and says what is in use against what is advised', async () => {
    const sites = [
      { site: 'hedge', clips: ['hedge'], camera: 'camera.json', settings: 'set/hedge.json' },
      {
        site: 'path',
        clips: ['path'],
        camera: 'camera.json',
        settings: { version: 1, controls: { sensitivity: 1, minimumArea: 64, cooldown: 4 } },
      },
    ];
    write('perchmark.json', JSON.stringify({ version: 1, sites }));
    const given = ['--forecast', 'day.csv', '--recorded-only'];
    const told = await perchmark(
      'plan',
      ...given,
      '--calendar',
      'p.ics',
      '--report',
      'p.html',
      '--write',
      'pset',
    );
    expect([told.code, told.err]).toEqual([0, expect.not.stringContaining('fault')]);
    const text = told.out.replaceAll(/\s+/g, ' ');
    expect(text).toMatch(/hedge: Leave it as it is in use/);
    expect(text).toMatch(/path: Set it to .* In use now: sensitivity 1,/);
    expect(text).toMatch(/Written p.html p.ics pset\/hedge.json/);
    const alone = await perchmark('plan', ...given, '--site', 'hedge', '--calendar', 'q.ics', '--json');
    expect([alone.code, there('q.ics')]).toEqual([0, false]);
    expect(alone.err).toMatch(/q.ics: nothing needs setting/);
    const byHand = await perchmark('plan', 'hedge', ...base, '--recorded-only', '--json');
    const week = (out: string) => (JSON.parse(out) as { sites: { week: object }[] }).sites[0]!.week;
    expect(week(alone.out)).toEqual(week(byHand.out));
    rmSync(join(folder, 'perchmark.json'));
  });

  it('refuses a bad forecast in one line before anything is read or written', async () => {
    write('kept.ics', 'mine');
    for (const [file, expected] of [
      ['late.csv', /late.csv: line 3 \(row 2\): expected a row every hour/],
      ['missing.csv', /missing.csv: there is no such file/],
    ] as const) {
      const { code, out, err } = await perchmark(
        'plan',
        'hedge',
        '--forecast',
        file,
        '--calendar',
        'other.ics',
      );
      expect([code, out]).toEqual([2, '']);
      expect(err).toMatch(expected);
      expect(err.trim().split('\n')).toHaveLength(1);
      expect(there('other.ics')).toBe(false);
    }
    const { code, err } = await perchmark('plan', 'hedge', ...base, '--calendar', 'kept.ics');
    expect([code, readFileSync(join(folder, 'kept.ics'), 'utf8')]).toEqual([2, 'mine']);
    expect(err).toMatch(/--calendar kept.ics/);
    expect((await perchmark('plan', 'hedge', ...base, '--calendar', 'day.csv', '--force')).code).toBe(2);
    expect(statSync(join(folder, 'day.csv')).size).toBeGreaterThan(100);
  });

  it.each([
    [Buffer.from([0xff, 0xfe, 0x74, 0]), /expected UTF-8 text, found UTF-16/],
    [Buffer.from('time,wind\n2027-05-04T06:00:00Z,1,\xe9', 'latin1'), /expected UTF-8 text/],
    [Buffer.alloc(2 ** 20 + 1, 'x'), /takes no more than 1 MB/],
    [Buffer.alloc(2 ** 19, 0), /.{1,3000}/],
  ])('refuses bytes that are no forecast', async (bytes, expected) => {
    writeFileSync(join(folder, 'bytes.csv'), bytes);
    const { code, out, err } = await perchmark('plan', 'hedge', '--forecast', 'bytes.csv');
    expect([code, out]).toEqual([2, '']);
    expect(err).toMatch(expected);
    expect(err.trim().split('\n')).toHaveLength(1);
    expect(err.length).toBeLessThan(3200);
  });

  it('accepts a byte order mark, and notes a forecast that is past', async () => {
    write('old.csv', `\uFEFFtime,wind,dew\n2020-05-04T10:00:00+01:00,1,4\n`);
    const { code, out, err } = await perchmark(
      'plan',
      'path',
      '--forecast',
      'old.csv',
      '--camera',
      'camera.json',
      '--recorded-only',
    );
    expect(code).toBe(0);
    expect(out).toMatch(/, 1 hour$/m);
    expect(err).toMatch(/"dew": no column that is used here/);
    expect(err).toMatch(/The forecast ends at 2020-05-04T11:00:00\+01:00, which is past/);
  });

  it('refuses hours awake that are none', async () => {
    for (const text of ['7', '7-7', '7-25', 'day']) {
      const { code, err } = await perchmark('plan', 'hedge', ...base, '--awake', text);
      expect([code, err.trim().split('\n').length]).toEqual([2, 1]);
      expect(err).toMatch(/such as 7-21/);
    }
  });
});
