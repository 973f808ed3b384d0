import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { Problem } from '../../src/base/problem.js';
import { defaultCamera } from '../../src/camera/default.js';
import { readOther } from '../../src/check/against.js';
import { cameraOf, readSuite, settingsOf } from '../../src/check/suite.js';
import { smallCamera } from '../support/clips.js';

const dir = mkdtempSync(join(tmpdir(), 'suite-'));
afterAll(() => rmSync(dir, { recursive: true }));
for (const name of ['calm', 'windy']) mkdirSync(join(dir, name));
symlinkSync(join(dir, 'calm'), join(dir, 'the same'));
const write = (name: string, content: object) => {
  writeFileSync(join(dir, name), JSON.stringify(content));
  return join(dir, name);
};
const values = { version: 1, threshold: 24, minimumArea: 16, cooldown: 4 };
const settingsFile = write('settings.json', values);
const cameraFile = write('camera.json', smallCamera);
const plain = {
  version: 1,
  clips: ['calm', { clip: './windy/', limits: { recall: 0.8 } }],
  settings: values,
};

describe('a suite', () => {
  it('is read with its paths beside it and what is left out filled in', async () => {
    const file = write('garden.json', plain);
    expect(await readSuite(file)).toEqual({
      file,
      title: 'garden',
      clips: [
        { name: 'calm', path: join(dir, 'calm'), limits: {}, place: 'clips[0]' },
        { name: 'windy', path: join(dir, 'windy'), limits: { recall: 0.8 }, place: 'clips[1]' },
      ],
      cameraFile: null,
      settings: values,
      limits: {},
      acceptedFile: join(dir, 'garden.accepted.json'),
      strict: false,
    });
  });

  it('takes camera and settings from files beside it', async () => {
    const given = { ...plain, camera: 'camera.json', settings: 'settings.json', accepted: 'kept/then.json' };
    const suite = await readSuite(write('named.json', given));
    const camera = await cameraOf(suite);
    expect(camera.name).toBe('small camera');
    expect(await settingsOf(suite, camera)).toMatchObject({ threshold: 24, mostChanged: 64 * 48 });
    expect(suite.acceptedFile).toBe(join(dir, 'kept', 'then.json'));
  });

  it.each<[string, object, RegExp]>([
    ['no clips', { clips: [] }, /: clips: expected at least 1 entry, found \[\]/],
    ['an unknown field', { limit: { recall: 1 } }, /: limit: unknown field \(did you mean 'limits'\?\)/],
    [
      'a limit above one',
      { limits: { recall: 80 } },
      /limits\.recall: expected a number from 0 to 1, found 80/,
    ],
    ['a clip that is no path', { clips: [7] }, /clips\[0\]: expected the path of a clip, or an object/],
    [
      'a limit on what is none',
      { clips: [{ clip: 'calm', limits: { precision: 1 } }] },
      /limits\.precision: unknown/,
    ],
    [
      'a clip that is not there',
      { clips: ['calm', 'clam'] },
      /clips\[1\]: .*found nothing at .*clam; mend "clam"/,
    ],
    [
      'a clip twice',
      { clips: ['calm', './calm'] },
      /clips\[1\]: expected each clip once, .*which clips\[0\] is too/,
    ],
    ['a clip twice, by a link', { clips: ['calm', 'the same'] }, /clips\[1\]: expected each clip once/],
    ['no settings', { settings: undefined }, /: settings: expected the path of a settings file, or settings/],
  ])('with %s is refused in one line', async (_, change, message) => {
    const reading = readSuite(write('wrong.json', { ...plain, ...change }));
    await expect(reading).rejects.toThrow(Problem);
    await expect(reading).rejects.toThrow(message);
  });

  it('names itself where its own settings make no sense', async () => {
    const file = write('dial.json', { ...plain, settings: { version: 1, controls: { sensitivty: 3 } } });
    const suite = await readSuite(file);
    await expect(settingsOf(suite, defaultCamera)).rejects.toThrow(
      /dial\.json: settings: controls\.sensitivty: .*did you mean 'sensitivity'/,
    );
  });
});

describe('what a suite is held against', () => {
  const dials = { version: 1, controls: { sensitivity: 2, minimumArea: 16, cooldown: 4 } };
  const suite = () => readSuite(write('dials.json', { ...plain, camera: 'camera.json', settings: dials }));

  it("is a settings file, for the suite's camera", async () => {
    const own = await suite();
    const camera = await cameraOf(own);
    const other = await readOther([settingsFile], own, camera);
    expect(other.camera).toBe(camera);
    expect(other.settings.threshold).toBe(24);
  });

  it("is a camera file, on which the suite's dial positions give what its dials give", async () => {
    const { controls } = smallCamera;
    const blunt = {
      ...smallCamera,
      controls: { ...controls, sensitivity: { ...controls.sensitivity, gives: [100, 20] } },
    };
    const own = await suite();
    const { settings } = await readOther([write('blunt.json', blunt)], own, await cameraOf(own));
    // Position 2 of 1 to 5, a quarter of the way from 100 to 20.
    expect(settings.threshold).toBe(80);
  });

  it('is one of each, in any order', async () => {
    const own = await suite();
    const other = await readOther([settingsFile, cameraFile], own, defaultCamera);
    expect([other.camera.name, other.settings.threshold]).toEqual(['small camera', 24]);
  });

  it('is not two of a kind', async () => {
    const own = await suite();
    await expect(readOther([settingsFile, settingsFile], own, defaultCamera)).rejects.toThrow(
      /found two files of settings/,
    );
  });
});
