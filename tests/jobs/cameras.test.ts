import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Camera, cameraSchema } from '../../src/camera/description.js';
import { needLabels } from '../../src/clip/labelled.js';
import { openClip } from '../../src/clip/open.js';
import { tuneSchema } from '../../src/jobs/documents/tune.js';
import { openPorts } from '../../src/jobs/ports.js';
import { readForAll } from '../../src/jobs/tune/read-for-all.js';
import { type TuneResult, tune, tuneDocument } from '../../src/jobs/tune.js';
import { passedFrames } from '../../src/measure/weather/passed.js';
import { bursts } from '../../src/measure/weather/sample.js';
import { Cache } from '../../src/store/cache.js';
import { MEASURED_RATE } from '../../src/weather/estimate.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { commandIn } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'cameras-'));
afterAll(() => rmSync(folder, { recursive: true }));
const cache = new Cache(join(folder, 'cache'));
const perchmark = commandIn(folder);

const FRAMES = 600;
const ROUND = 50;
const visits = Array.from({ length: FRAMES / ROUND }, (_, i) => ({
  start: 10 * i + 4,
  end: 10 * i + 8,
  name: 'wren',
}));
/** In every round something of some size comes for four seconds, small in every third. */
const path = (k: number) => {
  const [round, at] = [Math.floor(k / ROUND), k % ROUND];
  if (at < 20 || at >= 40) return null;
  const size = round % 3 === 0 ? 3 : 9;
  return { x: 2 * (at - 20), y: 20, size, level: 150 };
};

const cameraWith = (rest: object): Camera => cameraSchema.parse({ ...smallCamera, ...rest });
const first = cameraWith({});
const half = { ...smallCamera.analysis, width: 32, height: 24, rate: 2.5 };
const smaller = cameraWith({
  name: 'smaller',
  analysis: half,
  controls: { ...smallCamera.controls, minimumArea: { sets: 'minimumArea', choices: [1, 4, 16] } },
});
/** Sees only what is larger than anything that comes. */
const blind = cameraWith({
  name: 'blind',
  controls: { ...smallCamera.controls, minimumArea: { sets: 'minimumArea', choices: [2000, 3000] } },
});
const frozen = cameraWith({
  name: 'frozen',
  reference: { kind: 'average', seconds: 2, whileBusy: 'frozen' },
});
const clips = [join(folder, 'one')];
const run = (camera: Camera, otherCameras: Camera[] = [], given = clips): Promise<TuneResult> =>
  tune({ clips: given, camera, otherCameras, recordedOnly: true }, { cache });

let together: TuneResult;
beforeAll(async () => {
  for (const [i, name] of ['one', 'two'].entries()) {
    await writeClip(join(folder, name), drawFrames(FRAMES, path, `cameras ${i}`), { version: 1, visits });
  }
  for (const [name, camera] of Object.entries({ first, smaller, blind, frozen })) {
    writeFileSync(join(folder, `${name}.json`), JSON.stringify(camera));
  }
  writeFileSync(join(folder, 'namesake.json'), JSON.stringify({ ...smaller, name: first.name }));
  together = await run(first, [smaller, blind]);
});

describe('tuning with several cameras', () => {
  it('says of the first what it says of it alone, and of the others what is chosen for each alone', async () => {
    const { cameras, whichCamera, ...rest } = together;
    expect(rest).toEqual(await run(first));
    expect(whichCamera).toBeDefined();
    for (const [c, camera] of [first, smaller, blind].entries()) {
      const [site] = (await run(camera)).sites;
      expect(cameras![c]!.sites[0]!.choice).toEqual(site!.mask?.withoutIt ?? site!.recommended);
      expect(cameras![c]!.searched).toBe(site!.searched);
    }
  });

  it('prints what its schema says', () => {
    expect(tuneSchema.parse(JSON.parse(JSON.stringify(tuneDocument(together))))).toBeTruthy();
  });

  it('holds each against the first, visit by visit, on the same footage', () => {
    const [own, small, none] = together.cameras!;
    expect([own!.verdict, own!.leftOut!.against]).toEqual([null, null]);
    expect([small!.work, small!.pixelsPerSecond]).toEqual([1 / 8, 32 * 24 * 2.5]);
    for (const { leftOut } of [own!, small!, none!]) expect(leftOut!.visits).toBe(visits.length);
    const { caught } = own!.leftOut!;
    expect(caught).toBeGreaterThan(0);
    const { gained, lost, recall } = none!.leftOut!.against!;
    expect([gained.length, lost.length]).toEqual([0, caught]);
    expect(recall!.value).toBeCloseTo(-caught / visits.length, 12);
    expect(none!.verdict).toBe('worse');
    const { caught: on } = own!.sites[0]!.choice.score;
    expect(none!.sites[0]!.against!.lost).toHaveLength(on);
    expect(none!.sites[0]!.against!.lost[0]).toMatchObject({ clip: clips[0], name: 'wren' });
  });

  it('does not choose the one that catches nothing, and does not call it enough', () => {
    const { best, enough, chosenAnew } = together.whichCamera!;
    expect(best).not.toBe('blind');
    expect(enough).not.toBe('blind');
    expect(chosenAnew!.times.find(({ camera }) => camera === 'blind')!.times).toBe(0);
  });

  it('chooses without what is left out, also where an allowance is to be kept surely', async () => {
    const within = async (sure?: number) => {
      const wanted = { falsePerHour: 60, ...(sure !== undefined && { sure }) };
      const input = { clips, camera: first, otherCameras: [smaller], wanted, recordedOnly: true };
      return (await tune(input, { cache })).cameras!.map(({ leftOut }) => leftOut);
    };
    expect(await within(0.9)).toEqual(await within());
  });

  it('takes what the clip says of its own weather from the one reading', async () => {
    const clip = await openClip(clips[0]!, { cache });
    needLabels(clip);
    const ports = await openPorts({ cache: new Cache(join(folder, 'empty')) });
    const cameras = [first, smaller].map((camera) => ({ camera, file: null }));
    await readForAll([clip], cameras, undefined, ports);
    expect(passedFrames(clip, first.analysis, bursts(clip, MEASURED_RATE).flat())).not.toBeNull();
  });

  it('leaves out whole clips where there are several', async () => {
    const { cameras } = await run(first, [smaller], [...clips, join(folder, 'two')]);
    expect(cameras![1]!.sites[0]!.leftOut).toMatchObject({
      how: 'leave one clip out',
      visits: 2 * visits.length,
    });
  });

  it('compares a camera whose reference depends on its triggers, either way round, and says nothing against it', async () => {
    const { cameras } = await run(first, [frozen]);
    expect(cameras![1]).toMatchObject({ triesAll: true, searched: 30 });
    expect(cameras![1]!.sites[0]!.choice).toEqual((await run(frozen)).sites[0]!.recommended);
    // Nor can anything be left out here: what such a reference remembers lasts from one visit to the next.
    const { cameras: other, whichCamera } = await run(frozen, [first]);
    expect(other![1]).toMatchObject({ leftOut: null, verdict: 'too little to tell' });
    expect(whichCamera).toMatchObject({ chosenAnew: null, enough: null });
    const two = await run(frozen, [first], [...clips, join(folder, 'two')]);
    expect(two.cameras![1]!.leftOut!.visits).toBe(2 * visits.length);
  });

  it('tells the battery of each by its own power, and whether they differ', async () => {
    const thrifty = cameraWith({ name: 'thrifty', analysis: half, power: { idle: 0.1 } });
    const { cameras, whichCamera } = await run(first, [thrifty]);
    expect([together.whichCamera!.samePower, whichCamera!.samePower]).toEqual([true, false]);
    // 10,000 mAh at 3.7 V of which 0.825 come out, over 5 V times what it draws idle and 5 J a photo.
    const lasts = (idle: number, photos: number) => (37 * 0.825) / (5 * idle + (5 * photos) / 3600);
    for (const [c, idle] of [0.35, 0.1].entries()) {
      const { hours, photosPerHour } = cameras![c]!.sites[0]!.battery;
      expect(hours!.value).toBeCloseTo(lasts(idle, photosPerHour!.value), 9);
    }
  });
});

describe('what cannot be compared', () => {
  const strong = cameraWith({ name: 'strong', power: { mAh: 1_000_000 } });
  const without = { sensitivity: smallCamera.controls.sensitivity };

  it('is refused before anything is read, by the name of the camera', async () => {
    const read: string[] = [];
    const ports = { cache, onPhase: (what: string) => read.push(what) };
    const tuned = (other: Camera) =>
      tune({ clips, camera: strong, otherCameras: [other], wanted: { lasts: 200 } }, ports);
    await expect(tuned(smaller)).rejects.toThrow(/^smaller: --lasts 200: the battery lasts/);
    await expect(tuned(cameraWith({ name: 'bare', controls: without }))).rejects.toThrow(
      /^bare: controls: expected a dial that sets minimumArea/,
    );
    expect(read.filter((what) => !what.includes('looking through the files'))).toEqual([]);
  });
});

describe('the command', () => {
  const command = (...args: string[]) => perchmark('tune', 'one', '--recorded-only', ...args);

  it('shows a table that fits, and names cameras of one name by their files', async () => {
    const { code, out, err } = await command(
      ...['--camera', 'first.json', '--camera', 'namesake.json', '--camera', 'blind.json'],
    );
    expect(code).toBe(0);
    expect(err).toContain('3 cameras are compared by their dials');
    const told = out.slice(out.indexOf('Which camera?'));
    expect(told).toMatch(/^ {2}first\.json +64x48, 5\/s +\d+ of 12 +\d+ of 12 +[\d.]+ +the first$/m);
    expect(told).toMatch(/^ {2}namesake\.json +32x24, 2\.5\/s/m);
    expect(told).toMatch(/^ {2}blind +64x48, 5\/s +0 of 12 +0 of 12 +0 +worse$/m);
    expect(told).toContain("13 % of the first's");
    expect(Math.max(...out.split('\n').map(({ length }) => length))).toBeLessThanOrEqual(80);
  });

  it('refuses the same camera twice, and several where a verb takes one', async () => {
    const twice = await command('--camera', 'first.json', '--camera', 'first.json');
    expect(twice).toMatchObject({ code: 2, out: '' });
    expect(twice.err).toContain('found the same twice (first.json, first.json)');
    for (const verb of ['replay', 'diagnose', 'plan', 'weather', 'budget', 'size', 'evening']) {
      const { code, err } = await perchmark(verb, '--camera', 'first.json', '--camera', 'blind.json');
      expect([verb, code]).toEqual([verb, 2]);
      expect(err).toContain('found first.json before it; only tune takes several');
    }
  });

  it('compares at all spots of a project, whatever settings are in use there', async () => {
    const inUse = (sensitivity: number) => ({
      version: 1,
      controls: { sensitivity, minimumArea: 16, cooldown: 4 },
    });
    const sites = [
      { site: 'log pile', clips: ['one'], settings: inUse(2) },
      { site: 'water bowl', clips: ['two'], settings: inUse(5) },
    ];
    writeFileSync(join(folder, 'perchmark.json'), JSON.stringify({ version: 1, sites }));
    const { code, out } = await perchmark(
      ...['tune', '--recorded-only', '--camera', 'first.json', '--camera', 'smaller.json', '--json'],
    );
    expect(code).toBe(0);
    const { cameras, sites: told } = tuneSchema.parse(JSON.parse(out));
    expect(told.map(({ now }) => now.controls!.sensitivity)).toEqual([2, 5]);
    expect(cameras![1]!.sites.map(({ site }) => site)).toEqual(['log pile', 'water bowl']);
    expect(cameras![1]!.leftOut!.visits).toBe(2 * visits.length);
  });

  it('writes settings of the first, and says so; the report compares all', async () => {
    const { code, err } = await command(
      ...['--camera', 'first.json', '--camera', 'smaller.json', '--write', 'set', '--report', 'report.html'],
    );
    expect(code).toBe(0);
    const report = readFileSync(join(folder, 'report.html'), 'utf8');
    expect(report).toContain('<a href="#cameras">Which camera</a>');
    expect(report).toMatch(
      /<h2 id="cameras">Which camera\?<\/h2>.*<td>smaller<\/td>.*compares 32x24, 2\.5\/s: 1920 pixels a second/s,
    );
    expect(err).toContain('told of the first alone, small camera, whose settings --write writes');
  });
});
