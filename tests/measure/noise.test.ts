import { copyFileSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import { type Clip, openClip } from '../../src/clip/open.js';
import { weather } from '../../src/jobs/weather.js';
import { noiseOf } from '../../src/measure/weather/noise.js';
import { sensorOf } from '../../src/measure/weather/noise-sensor.js';
import { Cache } from '../../src/store/cache.js';
import { findFootage } from '../real/footage.js';
import { drawStillLife } from '../weather/still-life.js';

const folder = mkdtempSync(join(tmpdir(), 'noise-'));
const cache = new Cache(join(folder, 'cache'));
afterAll(() => rmSync(folder, { recursive: true }));

const stored = { width: 320, height: 240 };
const at = { width: 160, height: 120 };
const camera = { ...defaultCamera, exposure: undefined, sensor: undefined };
/** Red, green and blue in the weights of BT.601: this much of a channel's variance is left in luminance. */
const SHARE = 0.299 ** 2 + 0.587 ** 2 + 0.114 ** 2;
/** Of a channel, as stored. */
const [GAIN, READ] = [0.12, 6];
/** Lux; how much steeper the noise grows in the dusk clip, and how bright it came out against a right exposure. */
const [DUSK, STEEPER, LEVEL] = [10, 5, 0.4];

interface Film {
  gain: number;
  format?: 'png' | 'jpeg';
  light?: number;
  brightest?: number;
}

async function film(name: string, { gain, format = 'png', light, brightest = 0.9 }: Film): Promise<Clip> {
  const dir = join(folder, name);
  mkdirSync(join(dir, 'frames'), { recursive: true });
  const drawing = {
    ...stored,
    gain,
    readNoise: READ,
    seed: `build-${name}`,
    moving: true,
    colour: true,
    brightest,
  };
  for (const [k, rgb] of drawStillLife(drawing, 16).entries()) {
    const picture = sharp(rgb, { raw: { ...stored, channels: 3 } });
    const file = join(dir, 'frames', `${k}.${format}`);
    await (format === 'png' ? picture.png({ compressionLevel: 1 }) : picture.jpeg({ quality: 85 })).toFile(
      file,
    );
  }
  const conditions = light === undefined ? {} : { conditions: { light } };
  writeFileSync(
    join(dir, 'clip.json'),
    JSON.stringify({ version: 1, frames: `frames/*.${format}`, rate: 5, ...conditions }),
  );
  return openClip(dir, { cache });
}

let [bright, dusk, compressed]: Clip[] = [];
beforeAll(async () => {
  bright = await film('bright', { gain: GAIN, light: 20_000 });
  dusk = await film('dusk', { gain: GAIN * STEEPER, light: DUSK, brightest: 0.9 * LEVEL });
  compressed = await film('compressed', { gain: GAIN, format: 'jpeg', light: 20_000 });
}, 60_000);

describe('the noise of stills', () => {
  it('is measured at the size that is compared: colours and averaging leave their share of the gain', async () => {
    const transfer = await noiseOf(bright as Clip, at);
    if (transfer.kind !== 'measured') throw new Error(transfer.why);
    const expected = (GAIN * SHARE) / 4;
    expect((255 * transfer.line.slope) / expected).toBeGreaterThan(0.9);
    expect((255 * transfer.line.slope) / expected).toBeLessThan(1.1);
  });

  it.each([
    [240, 180],
    [200, 150],
    [640, 480],
  ])('is no less measured at %dx%d, where pixels are cut or enlarged', async (width, height) => {
    expect(await noiseOf(bright as Clip, { width, height })).toMatchObject({ kind: 'measured' });
  });

  it('is not measured on JPEGs that rounded it away, which are named', async () => {
    for (const size of [at, stored, { width: 200, height: 150 }]) {
      expect(await noiseOf(compressed as Clip, size)).toMatchObject({
        kind: 'not measurable',
        noiseless: true,
        why: expect.stringMatching(/compression.*stored as JPEG/),
      });
    }
  });
});

describe('what a camera is taken to be', () => {
  const of = (clip: Clip | undefined, more: object = {}) =>
    sensorOf({ clip: clip as Clip, light: clip?.manifest.conditions?.light, camera, at, ...more });

  it('is measured on the clip itself, and what it says is in words', async () => {
    const { optics, noise, defaults } = await of(bright);
    // Full well of an element, 960 read across: 36 to a pixel compared, where four are stored.
    expect(optics.fullWell / ((255 / GAIN) * (4 / 36))).toBeGreaterThan(0.9);
    expect(optics.fullWell / ((255 / GAIN) * (4 / 36))).toBeLessThan(1.1);
    expect(noise.measured).toBe(true);
    expect(noise.how.join()).toMatch(
      /measured on .*bright by photon transfer at 160x120, .*grows by [\d.]+ digital numbers per digital number of light \(90 %: [\d.]+ to [\d.]+\).*if 960 elements are read across the picture.*as is assumed/,
    );
    expect(defaults.join()).not.toMatch(/sensor\./);
    expect(defaults.join()).toMatch(/exposure\.longest/);
  });

  it('is assumed where the clip cannot tell, with the reason', async () => {
    const { optics, noise, defaults } = await of(compressed);
    expect(optics.fullWell).toBe(4300);
    expect(noise).toMatchObject({ measured: false, own: { floor: 0, slope: 0 } });
    expect(noise.how.join()).toMatch(/assumed: full well 4300.*compressed it cannot be measured.*JPEG/);
    expect(defaults.join()).toMatch(/sensor\.fullWell 4300/);
  });

  it('is measured on another clip of the same camera', async () => {
    const { noise, optics } = await of(compressed, { noiseFrom: bright });
    expect(noise.measured).toBe(true);
    expect(noise.how.join()).toMatch(/measured on .*bright/);
    expect(optics.fullWell).not.toBe(4300);
  });

  it('is what camera.json says, unless a clip is given to measure it on', async () => {
    const sensor = { fullWell: 9000, readNoise: 3 };
    const said = await of(bright, { camera: { ...camera, sensor } });
    expect(said.optics).toMatchObject(sensor);
    expect(said.noise.how.join()).toMatch(/as camera\.json says/);
    const given = await of(compressed, { camera: { ...camera, sensor }, noiseFrom: bright });
    expect(given.optics.fullWell).not.toBe(9000);
  });

  it('has its limits of exposure and gain from a clip at dusk', async () => {
    const { optics, noise, defaults } = await of(bright, { noiseFrom: dusk });
    expect(optics.mostGain / STEEPER).toBeGreaterThan(0.87);
    expect(optics.mostGain / STEEPER).toBeLessThan(1.15);
    // ISO 2720, C 250 and f/2.8: right at gain 1 and speed 100 is 2.5 * 2.8^2 / lux seconds.
    const seconds = (LEVEL * ((2.5 * 2.8 ** 2) / DUSK)) / STEEPER;
    expect(optics.longest / seconds).toBeGreaterThan(0.8);
    expect(optics.longest / seconds).toBeLessThan(1.25);
    expect(noise.how.join()).toMatch(/limits measured on .*dusk \(10 lux\) against .*bright/);
    expect(defaults.join()).not.toMatch(/exposure/);
    const said = await of(bright, {
      noiseFrom: dusk,
      camera: { ...camera, exposure: { longest: 0.05, mostGain: 9 } },
    });
    expect(said.optics).toMatchObject({ longest: 0.05, mostGain: 9 });
  });

  it('cannot be had of a clip that cannot tell', async () => {
    await expect(of(bright, { noiseFrom: compressed })).rejects.toMatchObject({
      code: 'usage',
      message: expect.stringMatching(/compressed: noise cannot be measured on it.*JPEG.*--noise-from/),
    });
  });
});

describe('weather at dusk', () => {
  it('says in clip.json what its noise was measured on', async () => {
    const dir = join(folder, 'simulated');
    const { simulated, defaults } = await weather(
      { clip: bright as Clip, dir, to: { light: 20 }, camera },
      { cache },
    );
    expect(simulated.assumed?.join()).toMatch(/sensor noise measured on .*bright/);
    expect(defaults.join()).not.toMatch(/sensor\./);
  });

  it('takes no noise from a clip where no light is asked for, nor from one that is simulated', async () => {
    const asked = { clip: bright as Clip, dir: join(folder, 'none'), camera };
    await expect(
      weather({ ...asked, to: { wind: 5 }, noiseFrom: bright as Clip }, { cache }),
    ).rejects.toThrow(/--noise-from.*--light or --at/);
    const simulated = { from: '../bright', seed: '1' };
    const made = { ...(bright as Clip), manifest: { ...(bright as Clip).manifest, simulated } };
    await expect(weather({ ...asked, to: { light: 20 }, noiseFrom: made }, { cache })).rejects.toThrow(
      /itself simulated/,
    );
  });
});

describe('real footage', async () => {
  const footage = await findFootage();
  const there = 'missing' in footage ? null : footage;

  it.skipIf(!there).each([
    ['tree.avi', 'tree' as const],
    ['vtest.avi', 'people' as const],
  ])('%s is called compressed at any size, and nothing is not a number', async (name, which) => {
    const dir = join(folder, name);
    mkdirSync(dir);
    writeFileSync(join(dir, 'clip.json'), JSON.stringify({ version: 1, frames: 'recording.avi' }));
    copyFileSync(there![which], join(dir, 'recording.avi'));
    const clip = await openClip(dir, { cache });
    for (const size of [clip, { width: 320, height: 240 }, at]) {
      const { width, height } = size;
      const transfer = await noiseOf(clip, { width, height });
      expect(transfer).toMatchObject({
        kind: 'not measurable',
        why: expect.stringMatching(/^\d+ % of it stay exactly alike from frame to frame.*stored as video/),
      });
    }
    const { optics } = await sensorOf({ clip, light: undefined, camera, at });
    expect(Object.values(optics).every(Number.isFinite)).toBe(true);
  });
});
