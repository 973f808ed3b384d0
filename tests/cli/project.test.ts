import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { commandIn } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'project-'));
afterAll(() => rmSync(folder, { recursive: true }));
const garden = join(folder, 'garden');
const cache = join(folder, 'cache');
const inGarden = commandIn(garden, cache);
const outside = commandIn(folder, cache);

const visits = [
  { start: 4, end: 6, name: 'wren' },
  { start: 12, end: 14, name: 'blackbird' },
];
/** What crosses the picture twice; a camera with a lower dial sees it, one with a higher does not. */
const crossing = (k: number) => {
  if (k >= 20 && k <= 30) return { x: 2 + (k - 20) * 5, y: 20, size: 6, level: 180 };
  return k >= 60 && k <= 70 ? { x: 2 + (k - 60) * 5, y: 30, size: 6, level: 180 } : null;
};
const keen = { version: 1, controls: { sensitivity: 4, minimumArea: 16, cooldown: 1 } };
const blunt = { version: 1, threshold: 18, minimumArea: 64, cooldown: 4 };
const project = {
  version: 1,
  sites: [
    { site: 'log pile', clips: ['pile-calm', 'pile-windy'], settings: 'keen.json' },
    { site: 'water bowl', clips: ['bowl'], camera: 'bowl-camera.json', settings: blunt },
    { site: 'compost heap', clips: ['heap'], settings: keen },
  ],
};
const write = (name: string, value: unknown) =>
  writeFileSync(join(garden, name), typeof value === 'string' ? value : JSON.stringify(value));

beforeAll(async () => {
  mkdirSync(garden);
  for (const [i, name] of ['pile-calm', 'pile-windy', 'bowl', 'heap'].entries()) {
    await writeClip(join(garden, name), drawFrames(100, crossing, `project ${i}`), { version: 1, visits });
  }
  write('camera.json', smallCamera);
  write('bowl-camera.json', { ...smallCamera, name: 'bowl camera', shutterLag: 0.2 });
  write('keen.json', keen);
});

/** Wrong use or bad input: exit 2, nothing on standard output, one line beside notes. */
async function refused(args: string[], told: RegExp): Promise<void> {
  const { code, out, err } = await inGarden(...args);
  const lines = err.split('\n').filter((line) => line !== '' && !line.startsWith('perchmark: note: '));
  expect({ code, out, lines: lines.length }).toEqual({ code: 2, out: '', lines: 1 });
  expect(lines[0]).toMatch(told);
}

describe('replay without clips, in a project', () => {
  beforeAll(() => write('perchmark.json', project));

  it('gives what it gives for each spot with its own clips, camera and settings by hand', async () => {
    write('blunt.json', blunt);
    const byHand = [
      ['pile-calm', 'pile-windy', '--camera', 'camera.json', '--settings', 'keen.json'],
      ['bowl', '--camera', 'bowl-camera.json', '--settings', 'blunt.json'],
      ['heap', '--camera', 'camera.json', '--settings', 'keen.json'],
    ];
    const expected = [];
    for (const args of byHand) {
      expected.push(...JSON.parse((await inGarden('replay', ...args, '--json')).out).clips);
    }
    const { code, out } = await inGarden('replay', '--json');
    expect(code).toBe(0);
    const { clips, total } = JSON.parse(out);
    expect(clips).toEqual(expected);
    expect(total.visits).toBe(8);
    expect(total.caught).toBe(expected.reduce((n, clip) => n + clip.score.caught, 0));
  });

  it('has a line a spot in one table, and says on standard error what it took from where', async () => {
    const { out, err } = await inGarden('replay');
    const [table] = out.split('\n\n');
    expect(table!.split('\n').map((line) => line.trim().split(/ {2,}/).slice(0, 3))).toEqual([
      ['site', 'length', 'visits caught'],
      ['log pile', '0:40', '4 of 4'],
      ['water bowl', '0:20', '0 of 2'],
      ['compost heap', '0:20', '2 of 2'],
      ['together', '1:20', '6 of 8'],
    ]);
    expect(out.split('\n').filter(({ length }) => length > 80)).toEqual([]);
    expect(err.match(/from perchmark\.json: .*/g)).toEqual([
      'from perchmark.json: 4 clips of log pile, water bowl, compost heap; their cameras; their settings in use',
    ]);
  });

  it('takes one spot with --site, and what is given by hand before what the project says', async () => {
    const one = JSON.parse((await inGarden('replay', '--site', 'water bowl', '--json')).out);
    expect(one.clips.map((c: { clip: string }) => c.clip)).toEqual(['bowl']);
    const given = ['--settings', 'keen.json', '--camera', 'camera.json'];
    const byHand = await inGarden('replay', 'bowl', ...given, '--json');
    const { out, err } = await inGarden('replay', '--site', 'water bowl', ...given, '--json');
    expect(out).toBe(byHand.out);
    expect(err).toMatch(/from perchmark\.json: 1 clip of water bowl\n/);
  });

  it('takes the folder that is named in the place of clips, by paths from where it runs', async () => {
    const { code, out } = await outside('replay', 'garden', '--json');
    expect(code).toBe(0);
    expect(JSON.parse(out).clips.map((c: { clip: string }) => c.clip)).toEqual([
      'garden/pile-calm',
      'garden/pile-windy',
      'garden/bowl',
      'garden/heap',
    ]);
  });

  it('writes one report with a heading for each spot', async () => {
    expect((await inGarden('replay', '--report', 'report.html')).code).toBe(0);
    const page = readFileSync(join(garden, 'report.html'), 'utf8');
    expect(page.match(/<h2 class="site">[^<]*/g)).toEqual([
      '<h2 class="site">log pile',
      '<h2 class="site">water bowl',
      '<h2 class="site">compost heap',
    ]);
    expect(page).toContain('small camera, bowl camera');
  });

  it('never writes over what the project reads', async () => {
    await refused(['replay', '--report', 'bowl-camera.json', '--force'], /which this run reads/);
    await refused(['replay', '--report', 'perchmark.json', '--force'], /which this run reads/);
  });
});

describe('what is wrong with a project is said in one line that names the place', () => {
  const [pile, bowl] = project.sites as [(typeof project.sites)[0], (typeof project.sites)[0]];
  it.each<[wrong: unknown, told: RegExp]>([
    ['{', /^perchmark: perchmark\.json: not valid JSON/],
    [{ version: 2, sites: [] }, /perchmark\.json: version: expected 1, found 2/],
    [{ version: 1, sites: [] }, /sites: expected a spot with clips, found none; 'perchmark add/],
    [{ version: 1, site: [] }, /site: unknown field \(did you mean 'sites'\?\)/],
    [{ version: 1, sites: [{ site: 'x', clips: [] }] }, /sites\[0\]\.clips: expected at least 1/],
    [
      { version: 1, sites: [{ site: ' ', clips: ['bowl'] }] },
      /sites\[0\]\.site: expected the name of a spot/,
    ],
    [
      { version: 1, sites: [{ ...pile, clip: 'x' }] },
      /sites\[0\]\.clip: unknown field \(did you mean 'clips'/,
    ],
    [
      { version: 1, sites: [pile, { ...bowl, site: 'log pile' }] },
      /sites\[1\]\.site: expected each site once/,
    ],
    [
      { version: 1, sites: [pile, { ...bowl, clips: ['bowl', 'pile-calm/'] }] },
      /sites\[1\]\.clips\[1\]: expected each clip once, found "pile-calm\/", which sites\[0\]\.clips\[0\] is too/,
    ],
    [
      { version: 1, sites: [{ ...pile, clips: ['.'] }] },
      /perchmark\.json: sites\[0\]\.clips\[0\]: expected a clip folder within the folder of the project, found "\."/,
    ],
    [
      { version: 1, sites: [{ ...pile, clips: ['nowhere'] }] },
      /sites\[0\]\.clips\[0\]: expected a clip folder/,
    ],
    [
      { version: 1, sites: [{ ...pile, camera: 'nowhere.json' }] },
      /nowhere\.json: .*expected a camera description/,
    ],
    [
      { version: 1, sites: [{ ...pile, settings: 5 }] },
      /sites\[0\]\.settings: expected the path of a settings file/,
    ],
    [
      { version: 1, sites: [{ ...pile, settings: { version: 1, controls: { cooldown: 3 } } }] },
      /perchmark\.json: sites\[0\]\.settings: controls\.cooldown: expected .*, found 3/,
    ],
    [
      { version: 1, sites: [{ site: 'log pile', clips: ['bowl'] }] },
      /sites\[0\]\.settings: expected the settings in use at "log pile", found nothing/,
    ],
    [
      { version: 1, sites: [pile], evenings: [{ folder: 'DCIM', site: 'logpile' }] },
      /evenings\[0\]\.site: expected one of "log pile", found "logpile" \(did you mean 'log pile'\?\)/,
    ],
  ])('%j', async (wrong, told) => {
    write('perchmark.json', wrong);
    await refused(['replay'], told);
  });

  it('one that stands in a clip, where it is none', async () => {
    const clip = join(folder, 'alone');
    await writeClip(
      clip,
      drawFrames(30, () => null, 'alone'),
      null,
    );
    writeFileSync(join(clip, 'perchmark.json'), JSON.stringify(project));
    const { code, err } = await commandIn(clip, cache)('replay');
    expect({ code, err }).toEqual({
      code: 2,
      err: expect.stringMatching(
        /^perchmark: replay: .*perchmark\.json of this folder is no project, for clip\.json beside it/,
      ),
    });
  });

  it('a clip that says itself that it is of another spot', async () => {
    await writeClip(
      join(garden, 'elsewhere'),
      drawFrames(30, () => null, 'elsewhere'),
      null,
      {
        rate: 5,
        site: 'hedge',
      },
    );
    write('perchmark.json', { version: 1, sites: [{ ...pile, clips: ['pile-calm', 'elsewhere'] }] });
    await refused(
      ['replay'],
      /sites\[0\]\.clips\[1\]: expected a clip of the site "log pile", found one that names "hedge"/,
    );
  });

  it('a spot that is none, and one asked for where clips are named', async () => {
    write('perchmark.json', project);
    await refused(
      ['replay', '--site', 'log pil'],
      /--site: expected one of .*found "log pil" \(did you mean 'log pile'/,
    );
    await refused(
      ['replay', 'bowl', 'heap', '--site', 'x', '--settings', 'keen.json'],
      /--site: expected with/,
    );
  });

  it('that there is none, where clips are left out', async () => {
    rmSync(join(garden, 'perchmark.json'));
    await refused(['replay'], /replay: expected the names of clips, found none, nor a perchmark\.json/);
  });
});

describe('add', () => {
  it.each(['log\npile', 'x'.repeat(5000)])('refuses a name of a spot that is no name', (site) =>
    refused(['add', 'bowl/frames', 'new', '--site', site], /Expected a name in one line, of at most 200/),
  );

  const added = () => JSON.parse(readFileSync(join(garden, 'perchmark.json'), 'utf8'));
  const add = (dir: string, ...more: string[]) =>
    outside('add', 'garden/bowl/frames', dir, '--rate', '5', ...more);

  it('begins a project, and puts further clips into it', async () => {
    const first = await add('garden/new-1', '--site', 'hedge', '--project', '--json');
    expect(JSON.parse(first.out)).toMatchObject({ dir: 'garden/new-1', project: 'garden/perchmark.json' });
    await add('garden/new-2', '--site', 'pond');
    const { out } = await inGarden('add', 'bowl/frames', 'more/new-3', '--rate', '5', '--site', 'hedge');
    expect(out).toMatch(/now in perchmark\.json as one of hedge/);
    expect(added()).toEqual({
      version: 1,
      sites: [
        { site: 'hedge', clips: ['new-1', 'more/new-3'] },
        { site: 'pond', clips: ['new-2'] },
      ],
    });
  });

  it('keeps all else that stands there, the schema named for editors too', async () => {
    const before = { $schema: 'x.json', ...project, plans: ['week.json'], evenings: [{ folder: 'DCIM' }] };
    write('perchmark.json', before);
    expect((await add('garden/new-4', '--site', 'water bowl')).code).toBe(0);
    const [pile, bowl, heap] = project.sites;
    expect(added()).toEqual({ ...before, sites: [pile, { ...bowl, clips: ['bowl', 'new-4'] }, heap] });
  });

  it('puts no clip in twice that stands there by another path, nor takes it for one of another spot', async () => {
    write('perchmark.json', { version: 1, sites: [{ site: 'hedge', clips: ['./new-8', 'x/../new-9'] }] });
    const before = added();
    expect((await add('garden/new-8', '--site', 'hedge')).code).toBe(0);
    expect(added()).toEqual(before);
    const other = await add('garden/new-9', '--site', 'pond');
    expect(other.err).toMatch(/sites\[0\]\.clips: "new-9" is one of "hedge" already/);
    expect(added()).toEqual(before);
  });

  it('refuses a spot that differs from one by capitals or spaces alone, before anything is made', async () => {
    write('perchmark.json', project);
    const { code, err } = await add('garden/new-10', '--site', 'Water  Bowl');
    expect(code).toBe(2);
    expect(err).toMatch(/has a spot "water bowl", which "Water {2}Bowl" differs from by capitals or spaces/);
    expect(added()).toEqual(project);
    await expect(async () => readFileSync(join(garden, 'new-10', 'clip.json'))).rejects.toThrow(/ENOENT/);
  });

  it('at once from several programs loses none', async () => {
    write('perchmark.json', project);
    const { joinProject } = await import('../../src/files/join-project.js');
    const names = [...Array(8).keys()].map((i) => `at-once-${i}`);
    await Promise.all(
      names.map((name) => joinProject(join(garden, 'perchmark.json'), join(garden, name), 'hedge')),
    );
    expect(added().sites.at(-1).clips.toSorted()).toEqual(names);
  });

  it('makes nothing where the project is wrong, and no clip of two spots', async () => {
    write('perchmark.json', '{ "version": 1 }');
    const wrong = await add('garden/new-5', '--site', 'hedge');
    expect(wrong).toMatchObject({ code: 2, out: '' });
    expect(wrong.err).toMatch(/garden\/perchmark\.json: sites: expected a list in \[ \], found nothing/);
    write('perchmark.json', { version: 1, sites: [{ site: 'pond', clips: ['new-5'] }] });
    expect((await add('garden/new-5', '--site', 'hedge')).err).toMatch(/"new-5" is one of "pond" already/);
    await expect(async () => readFileSync(join(garden, 'new-5', 'clip.json'))).rejects.toThrow(/ENOENT/);
  });

  it('without the name of a spot leaves the project alone and says so', async () => {
    write('perchmark.json', project);
    const { code, err } = await add('garden/new-6');
    expect(code).toBe(0);
    expect(err).toMatch(/not put into garden\/perchmark\.json, because nobody said which spot it belongs to/);
    expect(added()).toEqual(project);
  });

  it('writes a clip that is reached over a link by its real place', async () => {
    write('perchmark.json', project);
    symlinkSync(garden, join(folder, 'linked'));
    await add('linked/new-7', '--site', 'hedge');
    expect(added().sites.at(-1)).toEqual({ site: 'hedge', clips: ['new-7'] });
  });
});
