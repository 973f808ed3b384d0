import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { commandIn, messagesIn, processIn } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'cli-'));
const cameraFile = join(folder, 'camera.json');
const settingsFile = join(folder, 'settings.json');
const labelled = join(folder, 'labelled');
const unlabelled = join(folder, 'unlabelled');

/** Two crossings, from 4 s to 6 s and from 12 s to 14 s, and a flash of light at 8 s that is nothing. */
const path = (k: number) => {
  if (k === 40) return { x: 10, y: 10, size: 20, level: 160 };
  if (k >= 20 && k <= 30) return { x: 2 + (k - 20) * 5, y: 20, size: 6, level: 180 };
  if (k >= 60 && k <= 70) return { x: 2 + (k - 60) * 5, y: 30, size: 6, level: 180 };
  return null;
};
const visits = [
  { start: 4, end: 6, type: 'animal', name: 'wren' },
  { start: 12, end: 14, type: 'animal' },
];

beforeAll(async () => {
  const frames = drawFrames(100, path, 'cli');
  await writeClip(
    labelled,
    frames,
    { version: 1, visits },
    { rate: 5, conditions: { wind: 2, rain: 0, light: 9000 } },
  );
  await writeClip(unlabelled, frames, null);
  writeFileSync(cameraFile, JSON.stringify(smallCamera));
  writeFileSync(settingsFile, JSON.stringify({ version: 1, threshold: 18, minimumArea: 16, cooldown: 1 }));
});
afterAll(() => rmSync(folder, { recursive: true }));

const perchmark = commandIn(folder);
/** Wrong use or bad input: exit 2, nothing on standard output, one line that says this much. */
async function refused(args: string[], message: RegExp): Promise<void> {
  const { code, out, err } = await perchmark(...args);
  expect({ code, out, lines: err.trim().split('\n').length }).toEqual({ code: 2, out: '', lines: 1 });
  expect(err).toMatch(message);
}
const replay = ['replay', 'labelled', '--camera', 'camera.json', '--settings', 'settings.json'];

describe('replay', () => {
  it('gives the triggers, verdicts and score of the clip', async () => {
    const { code, out } = await perchmark(...replay, '--json');
    expect(code).toBe(0);
    const result = JSON.parse(out);
    const [clip] = result.clips;
    expect(clip).toMatchObject({ clip: 'labelled', frames: 100, seconds: 20 });
    // The square differs from the frame before at 4.0 s and is gone again at 6.2 s; busy for 1 s after each trigger.
    expect(clip.triggers.map((t: { time: number }) => t.time)).toEqual([4, 5, 6, 8, 12, 13, 14]);
    expect(clip.triggers[0]).toEqual({ time: 4, photos: [4.4], verdict: 'true', visit: 0 });
    expect(clip.triggers[3]).toEqual({ time: 8, photos: [8.4], verdict: 'false', visit: null });
    expect(clip.visits).toEqual([
      { start: 4, end: 6, caught: true },
      { start: 12, end: 14, caught: true },
    ]);
    // Photos at 6.4 s and 14.4 s come after the visits.
    expect(clip.score).toMatchObject({
      visits: 2,
      caught: 2,
      trueTriggers: 4,
      falseTriggers: 3,
      ignoredTriggers: 0,
    });
    expect(clip.score.watchedHours).toBeCloseTo(16 / 3600, 12);
    expect(result.total).toEqual(clip.score);
  });

  it('gives the same bytes from kept evidence as from the frames', async () => {
    const first = await perchmark(...replay, '--json');
    rmSync(join(folder, 'cache'), { recursive: true });
    expect((await perchmark(...replay, '--json')).out).toBe(first.out);
  });

  it('gives nulls for a clip without labels, and says why in the text', async () => {
    const args = ['replay', 'unlabelled', '--camera', 'camera.json', '--settings', 'settings.json'];
    const { clips, total } = JSON.parse((await perchmark(...args, '--json')).out);
    expect(clips[0].triggers.length).toBe(7);
    expect(clips[0].triggers[0]).toMatchObject({ verdict: null, visit: null });
    expect(total).toMatchObject({ precision: null, recall: null, falsePerHour: null });
    expect((await perchmark(...args)).out).toMatch(/no labels\.json/);
  });

  it('tells a person what was caught, missed and false', async () => {
    writeFileSync(
      join(folder, 'blunt.json'),
      JSON.stringify({ version: 1, threshold: 18, minimumArea: 200, cooldown: 1 }),
    );
    const { out } = await perchmark(
      'replay',
      'labelled',
      '--camera',
      'camera.json',
      '--settings',
      'blunt.json',
    );
    expect(out).toMatch(/missed 2 visits:\s+0:04-0:06 wren, 0:12-0:14/);
    expect(out).toMatch(/fired falsely 1 time:\s+0:08/);
  });

  it('warns of engine values that no dial position gives', async () => {
    const { err } = await perchmark(
      'replay',
      'labelled',
      '--camera',
      'camera.json',
      '--settings',
      'blunt.json',
    );
    expect(err).toMatch(/minimumArea 200 is replayed, but cannot be set on small camera/);
  });
});

describe('tune', () => {
  const tune = ['tune', 'labelled', '--camera', 'camera.json'];

  it('tries every setting and finds one that keeps the allowance', async () => {
    const { code, out } = await perchmark(...tune, '--false-per-hour', '500', '--json');
    expect(code).toBe(0);
    const result = JSON.parse(out);
    expect(result.searched).toBe(30);
    expect(result.allowance).toMatchObject({ falsePerHour: 500, kept: true });
    expect(result.best.score).toMatchObject({ caught: 2, visits: 2 });
    expect(Object.keys(result.best.controls)).toEqual(['sensitivity', 'minimumArea', 'cooldown']);
    expect(result.recommended.unseen.how).toBe('too little to tell');
    const recalls = result.front.map((f: { recall: number }) => f.recall);
    expect(recalls).toEqual([...recalls].sort((a, b) => b - a));
  });

  it('replays the best settings, as it prints them, to the score it printed', async () => {
    const { best } = JSON.parse((await perchmark(...tune, '--json')).out);
    writeFileSync(join(folder, 'best.json'), JSON.stringify(best.settings));
    const again = await perchmark(
      'replay',
      'labelled',
      '--camera',
      'camera.json',
      '--settings',
      'best.json',
      '--json',
    );
    expect(JSON.parse(again.out).total).toEqual(best.score);
    expect(messagesIn(again.err)).toEqual([]);
  });

  it('says from how many hours an allowance can be told', async () => {
    expect((await perchmark(...tune, '--false-per-hour', '2')).out).toMatch(/takes\s+1\.5\s+watched hours/);
  });

  it('replays a camera whose reference depends on its triggers setting by setting, and says so', async () => {
    const frozen = { ...smallCamera, reference: { kind: 'average', seconds: 2, whileBusy: 'frozen' } };
    writeFileSync(join(folder, 'frozen.json'), JSON.stringify(frozen));
    const { code, out } = await perchmark('tune', 'labelled', '--camera', 'frozen.json');
    expect(code).toBe(0);
    expect(out).toMatch(/reference depends on its triggers/);
  });

  it('puts weather that nobody recorded onto the clip, marked as simulated, unless told not to', async () => {
    const { byCondition, simulations } = JSON.parse((await perchmark(...tune, '--json')).out);
    expect(byCondition.map((c: { condition: string; source: string }) => [c.condition, c.source])).toEqual([
      ['calm', 'recorded'],
      ['wind', 'simulated'],
      ['rain', 'simulated'],
      ['low light', 'simulated'],
    ]);
    expect(simulations[0].clip).toBe('labelled');
    expect(simulations[0].assumed.length).toBeGreaterThan(0);
    const only = JSON.parse((await perchmark(...tune, '--recorded-only', '--json')).out);
    expect(only.byCondition).toHaveLength(1);
  });

  it('takes the allowance in photos a day', async () => {
    const daily = await perchmark(...tune, '--photos-per-day', '48', '--hours-out', '16', '--json');
    expect(JSON.parse(daily.out).allowance.falsePerHour).toBe(3);
  });

  it('writes no settings where there is too little to tell, and says so', async () => {
    const { code, out, err } = await perchmark(...tune, '--write', 'set');
    expect(code).toBe(0);
    expect(out).toMatch(/^Nothing was written: there is too little to tell/m);
    expect(err).toMatch(/note: .*too little to tell, so nothing is written for it/);
    expect(existsSync(join(folder, 'set'))).toBe(false);
  });

  it('writes a report as one page that asks for nothing from outside', async () => {
    const { code } = await perchmark(...tune, '--report', 'report.html');
    expect(code).toBe(0);
    const page = readFileSync(join(folder, 'report.html'), 'utf8');
    expect(page).toMatch(/<svg/);
    expect(page).toMatch(/data:image\/jpeg/);
    expect(page).not.toMatch(/(?:src|href)="(?!data:|#)/);
  });

  it('names the file of a camera that lacks a dial', async () => {
    const { cooldown: _, ...others } = smallCamera.controls;
    writeFileSync(join(folder, 'lacking.json'), JSON.stringify({ ...smallCamera, controls: others }));
    await refused(
      ['tune', 'labelled', '--camera', 'lacking.json'],
      /lacking\.json: .*: controls: expected a dial that sets cooldown, found none/,
    );
  });

  it('refuses a clip without labels', () =>
    refused(['tune', 'unlabelled'], /unlabelled: there is no labels\.json/));
});

describe('wrong use and bad input', () => {
  it.each([
    [['tuen', 'labelled'], /unknown command 'tuen'.*[Dd]id you mean tune/],
    [['tune', 'labelled', '--jsn'], /unknown option '--jsn'.*[Dd]id you mean --json/],
    [['tune', 'labelled', '--false-per-hour', 'six'], /--false-per-hour.*Expected a number/],
    [['tune', 'labelled', '--false-per-hour', '-1'], /Expected a number from 0 to 1000000/],
    [['tune', 'labelled', '--photos-per-day', '48'], /--hours-out/],
    [['tune', 'labelled', '--hours-out', '16'], /--photos-per-day/],
    [['tune', 'labelled', '--hours-out', '0'], /Expected a number of hours from 0\.01 to 24/],
    [['tune', 'labelled', '--template', 'camera.json'], /--template: expected together with --write/],
    [['tune', 'labelled', '--write', 'labelled/out'], /--write labelled\/out: this folder lies in the clip/],
    [
      ['tune', 'labelled', '--write', 'out', '--template', 'settings.json'],
      /expected a name in double braces/,
    ],
    [
      ['tune', 'labelled', '--photos-per-day', '9', '--hours-out', '9', '--false-per-hour', '6'],
      /expected one of them/,
    ],
    [['tune', 'labelled', '--camera', 'camera.json', '--report', 'none/report.html'], /none/],
    [['tune'], /tune: expected the names of clips, found none/],
    [['replay', 'labelled'], /--settings/],
    [['replay', 'labelled', '--settings', 'none.json'], /none\.json: there is no such file/],
    [['replay', 'nowhere', '--camera', 'camera.json', '--settings', 'settings.json'], /nowhere/],
    [['add', 'nowhere', 'new'], /nowhere/],
    [['add', 'labelled/frames', 'labelled', '--rate', '5'], /labelled/],
    [['add', 'labelled/frames', 'new'], /--rate/],
  ])('%j', async (args, message) => {
    await refused(args, message);
  });

  it('changes nothing', () => {
    expect(existsSync(join(folder, 'new'))).toBe(false);
    expect(readdirSync(labelled).sort()).toEqual(['clip.json', 'frames', 'labels.json']);
  });

  it.each([
    [
      'labels.json',
      '{"version":1,"visits":[{"start":9,"end":4,"type":"animal"}]}',
      /labels\.json: visits\[0\]\.end/,
    ],
    [
      'labels.json',
      '{"version":1,"visits":[{"start":9,"end":40,"type":"animal"}]}',
      /labels\.json: visits\[0\]/,
    ],
    ['labels.json', '{"version":1,"visits":[{"start":NaN}]}', /labels\.json: not valid JSON/],
    ['labels.json', '{"version":2,"visits":[]}', /labels\.json: version: expected 1, found 2/],
    [
      'clip.json',
      '{"version":1,"frames":"frames/*.png","rat":5}',
      /clip\.json: rat: unknown field \(did you mean 'rate'/,
    ],
    ['clip.json', '{"version":1,"frames":"frames/*.png","rate":-5}', /clip\.json: rate/],
    ['clip.json', '{"version":1,"frames":"frames/*.png","times":[0,1]}', /times/],
    ['clip.json', '{"version":1,"frames":"../labelled/frames/*.png","rate":5}', /outside|leave/],
    ['clip.json', '{"version":1,"frames":"frames/*.gif","rate":5}', /gif/],
    ['clip.json', '{"version":1,"frames":"frames/*.png"}', /rate/],
    ['frames/7.png', '', /7\.png.*7/],
    ['frames/7.png', 'not a picture', /7\.png.*7/],
  ])('in %s: %s', async (file, text, message) => {
    const broken = join(folder, 'broken');
    rmSync(broken, { recursive: true, force: true });
    cpSync(labelled, broken, { recursive: true });
    writeFileSync(join(broken, file), text);
    await refused(['replay', 'broken', '--camera', 'camera.json', '--settings', 'settings.json'], message);
  });

  it('names a cache it cannot write and goes on without', async () => {
    const uncached = processIn(folder, join(cameraFile, 'below-a-file'));
    const ran = await uncached(...replay, '--json');
    expect(ran.code).toBe(0);
    expect(ran.err).toMatch(/cannot be written/);
    expect(JSON.parse(ran.out).clips).toHaveLength(1);
  });
});
