import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { useSettings } from '../../src/cli/use-settings.js';
import { readProject } from '../../src/files/project.js';
import { readCamera } from '../../src/files/read-camera.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { commandIn } from '../support/command.js';

const garden = mkdtempSync(join(tmpdir(), 'project-verbs-'));
afterAll(() => rmSync(garden, { recursive: true }));
const perchmark = commandIn(garden);

/** Ten crossings, and now and then a flash that is nothing. */
const animals = (k: number) => {
  if (k % 50 < 10) return { x: 2 + (k % 50) * 5, y: 20, size: 8, level: 170 };
  return k % 50 === 30 ? { x: 10, y: 4, size: 6, level: 110 } : null;
};
const visits = [...Array(10).keys()].map((i) => ({ start: i * 10, end: i * 10 + 2 }));
const none = { sensitivity: 1, minimumArea: 64, cooldown: 4 };
const bowlCamera = {
  ...smallCamera,
  name: 'bowl camera',
  controls: { ...smallCamera.controls, minimumArea: { sets: 'minimumArea', choices: [8, 32] } },
};
const project = {
  version: 1,
  sites: [
    { site: 'log pile', clips: ['pile'], settings: { version: 1, controls: none } },
    { site: 'water bowl', clips: ['bowl'], camera: 'bowl-camera.json' },
  ],
};
const write = (name: string, value: unknown) => writeFileSync(join(garden, name), JSON.stringify(value));
const read = (name: string) => JSON.parse(readFileSync(join(garden, name), 'utf8'));

beforeAll(async () => {
  for (const [i, name] of ['pile', 'bowl', 'few'].entries()) {
    const some = name === 'few' ? visits.slice(0, 3) : visits;
    await writeClip(join(garden, name), drawFrames(500, animals, `verbs ${i}`), { version: 1, visits: some });
  }
  await writeClip(join(garden, 'unlabelled'), drawFrames(50, animals, 'verbs'), null);
  write('camera.json', smallCamera);
  write('bowl-camera.json', bowlCamera);
  write('none.json', { version: 1, controls: none });
});
beforeEach(() => write('perchmark.json', project));

async function refused(args: string[], told: RegExp): Promise<void> {
  const { code, out, err } = await perchmark(...args);
  const lines = err.split('\n').filter((line) => line !== '' && !line.startsWith('perchmark: note: '));
  expect({ code, out, lines: lines.length }).toEqual({ code: 2, out: '', lines: 1 });
  expect(lines[0]).toMatch(told);
}

const tune = ['tune', '--recorded-only'];

describe('tune in a project', () => {
  it('tells each spot as it does with its own clips, camera and settings by hand', async () => {
    const { code, out, err } = await perchmark(...tune, '--json');
    expect(code).toBe(0);
    const [pile, bowl] = JSON.parse(out).sites;
    const alone = async (...args: string[]) => {
      const { sites } = JSON.parse((await perchmark(...tune, ...args, '--json')).out);
      return sites[0];
    };
    expect(pile).toEqual({
      ...(await alone('pile', '--camera', 'camera.json', '--now', 'none.json')),
      site: 'log pile',
    });
    expect(bowl).toEqual({ ...(await alone('bowl', '--camera', 'bowl-camera.json')), site: 'water bowl' });
    expect(pile.now.assumed).toBe(false);
    expect(bowl.now.assumed).toBe(true);
    expect(err).toMatch(/from perchmark\.json: 2 clips of log pile, water bowl;/);
  });

  it('has one table of all spots, and says of each what it is held against', async () => {
    const { out } = await perchmark(...tune);
    expect(out).toMatch(/log pile +\S+.* 0 of 10 +\d+ of 10/);
    expect(out).toMatch(/water bowl +\S+.* \d+ of 10 +\d+ of 10/);
    expect(out).toMatch(/log pile: Compared with what you use now/);
    expect(out).toMatch(/water bowl: Nobody said what you use now/);
    expect(out).toMatch(/settings of the small camera, \d+ of the\s+bowl camera/);
    expect(out.split('\n').filter(({ length }) => length > 80)).toEqual([]);
  });

  it('with --use writes what is recommended as the settings in use, and all else stays', async () => {
    const { out } = await perchmark(...tune, '--use', '--json');
    const { sites } = JSON.parse(out);
    const used = read('perchmark.json');
    expect(used.sites.map((s: { settings: { controls: unknown } }) => s.settings.controls)).toEqual(
      sites.map((s: { recommended: { controls: unknown } }) => s.recommended.controls),
    );
    for (const site of used.sites) delete site.settings;
    const [pile, bowl] = project.sites;
    expect(used).toEqual({ version: 1, sites: [{ site: pile!.site, clips: pile!.clips }, bowl] });
    const again = await perchmark('replay', '--json');
    const caught = sites.reduce(
      (n: number, s: { recommended: { score: { caught: number } } }) => n + s.recommended.score.caught,
      0,
    );
    expect(JSON.parse(again.out).total.caught).toBe(caught);
  });

  it('with --use leaves a spot alone of which too little can be told, and says so', async () => {
    write('perchmark.json', { version: 1, sites: [{ ...project.sites[0]!, clips: ['few'] }] });
    const before = readFileSync(join(garden, 'perchmark.json'), 'utf8');
    const { code, err } = await perchmark(...tune, '--use');
    expect(code).toBe(0);
    expect(err).toMatch(
      /log pile: its settings in use stay as they are in perchmark\.json, because there is too little/,
    );
    expect(readFileSync(join(garden, 'perchmark.json'), 'utf8')).toBe(before);
  });

  it('with --use sets nothing by an allowance that so short a recording cannot tell to be kept', async () => {
    const before = readFileSync(join(garden, 'perchmark.json'), 'utf8');
    const { code, err } = await perchmark(...tune, '--use', '--false-per-hour', '6');
    expect(code).toBe(0);
    expect(err).toMatch(
      /log pile: its settings in use stay .*, because telling whether 6 .* kept takes 30 watched minutes/,
    );
    expect(err).toMatch(/water bowl: its settings in use stay/);
    expect(readFileSync(join(garden, 'perchmark.json'), 'utf8')).toBe(before);
  });

  it('with --use overwrites nothing that the owner changed meanwhile, and names no spot as set that is gone', async () => {
    const { sites } = JSON.parse((await perchmark(...tune, '--json')).out);
    const [pile, bowl] = project.sites;
    const before = await readProject(join(garden, 'perchmark.json'));
    const camera = await readCamera(join(garden, 'camera.json'));
    const useNow = async () => {
      const notes: string[] = [];
      const names = ['log pile', 'water bowl'];
      const set = await useSettings(
        before,
        names,
        sites,
        () => camera,
        (line) => notes.push(line),
      );
      return { set, notes: notes.join('\n') };
    };
    const mine = { ...pile, settings: { version: 1, controls: { ...none, sensitivity: 4 } } };
    write('perchmark.json', { version: 1, sites: [mine] });
    const text = readFileSync(join(garden, 'perchmark.json'), 'utf8');
    const both = await useNow();
    expect(both.set).toEqual([]);
    expect(both.notes).toMatch(/log pile: its settings in use stay .* changed there meanwhile/);
    expect(both.notes).toMatch(/water bowl: it is no longer in .*perchmark\.json/);
    expect(readFileSync(join(garden, 'perchmark.json'), 'utf8')).toBe(text);
    write('perchmark.json', { version: 1, sites: [mine, { ...bowl, clips: ['bowl', 'few'] }] });
    expect((await useNow()).set).toEqual(['water bowl']);
    expect(read('perchmark.json').sites[0]).toEqual(mine);
    expect(read('perchmark.json').sites[1].clips).toEqual(['bowl', 'few']);
    write('perchmark.json', { version: 1, sites: [pile, { ...bowl, camera: 'camera.json' }] });
    expect((await useNow()).set).toEqual(['log pile']);
  });

  it('shows what there is to choose among at a spot of several of which too little can be told', async () => {
    const [pile, bowl] = project.sites;
    write('perchmark.json', { version: 1, sites: [pile, { ...bowl!, clips: ['few'] }] });
    const { out } = await perchmark(...tune);
    expect(out).toMatch(/: Until then, sensible choices:\n.*\n {2}A +\d/);
  });

  it('leaves out clips that nobody has labelled, and says so', async () => {
    const [pile, bowl] = project.sites;
    write('perchmark.json', {
      version: 1,
      sites: [
        { ...pile!, clips: ['pile', 'unlabelled'] },
        { ...bowl!, site: 'bowl', clips: ['few'] },
      ],
    });
    const { out, err } = await perchmark(...tune, '--json');
    expect(JSON.parse(out).sites[0].clips).toEqual(['pile']);
    expect(err).toMatch(/unlabelled: left out, because it has no labels\.json yet/);
    write('perchmark.json', { version: 1, sites: [{ ...pile!, clips: ['unlabelled'] }] });
    await refused(tune, /unlabelled: .*labels\.json/);
  });

  it('writes settings files and cards of all spots, each for its own camera', async () => {
    expect((await perchmark(...tune, '--write', 'set', '--report', 'all.html')).code).toBe(0);
    const sites = JSON.parse((await perchmark(...tune, '--json')).out).sites;
    expect(read('set/log-pile.json').controls).toEqual(sites[0].recommended.controls);
    expect(read('set/water-bowl.json').controls).toEqual(sites[1].recommended.controls);
    expect(readFileSync(join(garden, 'set/water-bowl-card.html'), 'utf8')).toContain('bowl camera');
    expect(readFileSync(join(garden, 'all.html'), 'utf8')).toContain('small camera, bowl camera');
  });

  it('refuses what is for one camera where there are several, and --use without a project', async () => {
    await refused(
      [...tune, '--together'],
      /--together: expected spots with one camera and the same settings/,
    );
    await refused([...tune, '--lasts', '5'], /--lasts: expected spots with one camera, found several/);
    await refused([...tune, '--use', 'pile'], /--use: expected the spots of a project/);
    await refused([...tune, '--use', '--camera', 'camera.json'], /--use: expected without --camera/);
    await refused(
      [...tune, '--write', 'set2', '--template', 'none.json'],
      /--template: expected spots with one camera/,
    );
  });
});

describe('other verbs in a project', () => {
  it('diagnose takes the spots that are alike, or asks for one', async () => {
    await refused(
      ['diagnose'],
      /diagnose: .* found several \(log pile; water bowl\); choose one with --site/,
    );
    await refused(['diagnose', '--site', 'water bowl'], /sites\[1\]\.settings: expected the settings in use/);
    const { out } = await perchmark('diagnose', '--site', 'log pile', '--json');
    const byHand = ['pile', '--camera', 'camera.json', '--settings', 'none.json', '--json'];
    expect(out).toBe((await perchmark('diagnose', ...byHand)).out);
  });

  it('check holds a spot against what was accepted of it, beside the project', async () => {
    const site = ['--site', 'log pile'];
    expect((await perchmark('check', ...site)).out).toContain(
      'perchmark check perchmark.json --site "log pile"',
    );
    const accepted = await perchmark('check', ...site, '--accept', '--why', 'as it was hung');
    expect(accepted.code).toBe(0);
    expect(read('log-pile.accepted.json').why).toBe('as it was hung');
    expect((await perchmark('check', ...site)).code).toBe(0);
    rmSync(join(garden, 'perchmark.json'));
    await refused(['check'], /check: expected a suite file, found none, nor a perchmark\.json/);
  });

  it('budget and size take the camera of the spot', async () => {
    await refused(['budget'], /its spots have several cameras; choose a spot with --site/);
    const { out, err } = await perchmark('budget', '--site', 'water bowl', '--json');
    expect(JSON.parse(out).camera).toBe('bowl camera');
    expect(err).toMatch(/from perchmark\.json: bowl-camera\.json/);
    const size = ['size', '--animal', 'wren', '--distance', '2', '--json'];
    expect(JSON.parse((await perchmark(...size, '--site', 'log pile')).out).camera).toBe('small camera');
    expect(JSON.parse((await perchmark(...size, '--camera', 'bowl-camera.json')).out).camera).toBe(
      'bowl camera',
    );
  });
});
