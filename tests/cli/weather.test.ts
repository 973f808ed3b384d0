import { execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import {
  existsSync,
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
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { quickRandom } from '../../src/base/random.js';
import { small, writeClip } from '../support/clips.js';
import { commandIn, messagesIn } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'weather-'));
const at = (...parts: string[]) => join(folder, ...parts);

const labels = {
  version: 1,
  visits: [{ start: 1, end: 2, type: 'animal', name: 'wren', box: [0.1, 0.1, 0.2, 0.2] }],
  foliage: [
    [
      [0, 0],
      [0.5, 0],
      [0.5, 1],
      [0, 1],
    ],
  ],
};
const manifest = {
  title: 'A hedge',
  start: '2026-06-21T13:00:00+01:00',
  place: { latitude: 51, longitude: -3 },
  conditions: { wind: 1, rain: 0, light: 8000 },
  scene: { subject: 2 },
};

/** Waves of all directions, still, as large as leaves: no edge in them is long and straight. */
function texture(): Uint8Array {
  const dice = quickRandom('leaves', 'weather');
  const waves = Array.from({ length: 24 }, () => {
    const [way, k] = [2 * Math.PI * dice(), (2 * Math.PI) / (5 + 3 * dice())];
    return [k * Math.cos(way), k * Math.sin(way), 2 * Math.PI * dice()] as const;
  });
  return Uint8Array.from({ length: small.width * small.height }, (_, i) => {
    const [x, y] = [i % small.width, Math.floor(i / small.width)];
    const wave = waves.reduce((sum, [kx, ky, phase]) => sum + Math.sin(kx * x + ky * y + phase), 0);
    return Math.min(255, Math.max(0, 128 + 14 * wave));
  });
}

beforeAll(async () => {
  const frames = Array.from({ length: 20 }, () => texture());
  await writeClip(at('calm'), frames, labels, { ...manifest, rate: 5 });
  const times = frames.map((_, k) => k * 0.2 + (k > 9 ? 0.7 : 0));
  await writeClip(at('uneven'), frames, null, { times });
  const dice = quickRandom('noise', 'weather');
  const noise = frames.map((frame) => frame.map(() => 255 * dice()));
  const windy = { conditions: { wind: 6 } };
  await writeClip(at('noise'), noise, labels, { rate: 5, ...windy });
  await writeClip(at('seldom'), noise, labels, { rate: 0.1, ...windy });
});
afterAll(() => rmSync(folder, { recursive: true }));

const perchmark = commandIn(folder);
const weather = (...args: string[]) => perchmark('weather', ...args);
const json = (...parts: string[]) => JSON.parse(readFileSync(at(...parts), 'utf8'));
const bytes = (dir: string) =>
  readdirSync(at(dir, 'frames')).map((name) => readFileSync(at(dir, 'frames', name)).toString('base64'));

describe('weather', () => {
  it('writes the clip in other conditions and says that it is simulated, from what and how', async () => {
    const { code, out } = await weather('calm', 'gale', '--wind', '6', '--seed', 'a', '--json');
    expect(code).toBe(0);
    const result = JSON.parse(out);
    const { simulated, ...clip } = json('gale', 'clip.json');
    expect(clip).toEqual({
      version: 1,
      ...manifest,
      conditions: { wind: 6, rain: 0, light: 8000 },
      frames: 'frames/*.png',
      rate: 5,
    });
    expect(simulated).toMatchObject({ from: '../calm', seed: 'a', wind: 6, rain: 0, light: 8000 });
    expect(simulated.assumed.length).toBeGreaterThan(0);
    expect(result).toMatchObject({ dir: 'gale', frames: 20, seconds: 4, simulated });
    // What neither clip.json nor the default camera says about geometry.
    expect(result.defaults.join()).toMatch(/lens\.hfov.*scene\.foliage.*scene\.height.*mount.*cover/);
    expect(json('gale', 'labels.json')).toEqual(labels);
    const picture = await sharp(at('gale', 'frames', '000000.png')).metadata();
    expect(picture).toMatchObject({ ...small, channels: 1, format: 'png' });
  });

  it('writes the same bytes for the same seed', async () => {
    await weather('calm', 'one', '--wind', '4', '--light', '30', '--seed', 's');
    await weather('calm', 'two', '--wind', '4', '--light', '30', '--seed', 's');
    await weather('calm', 'three', '--wind', '4', '--light', '30', '--seed', 't');
    expect(bytes('one')).toEqual(bytes('two'));
    expect(bytes('three')).not.toEqual(bytes('one'));
  });

  it('tells a person what was assumed, what was taken by default, and that all is simulated', async () => {
    const { out } = await weather('calm', 'told', '--wind', '5');
    expect(out).toMatch(/Beaufort 1 +Beaufort 5/);
    expect(out).toMatch(/Rests on assumption:\n {2}- /);
    expect(out).toMatch(/scene\.foliage 2\.5 m/);
    expect(out).toMatch(/simulation,\s+not\s+of\s+a\s+recording/);
  });

  it('lists the times of a clip whose frames are unevenly apart', async () => {
    await weather('uneven', 'uneven-wind', '--wind', '5');
    const { times, rate } = json('uneven-wind', 'clip.json');
    expect({ times, rate }).toEqual({ times: json('uneven', 'clip.json').times, rate: undefined });
    expect(existsSync(at('uneven-wind', 'labels.json'))).toBe(false);
  });

  it('takes the light of a time from place and sun', async () => {
    const dusk = '2026-06-21T21:30:00+01:00';
    const { out } = await weather('calm', 'dusk', '--at', dusk, '--json');
    const { light } = JSON.parse(out).simulated;
    expect(light).toBeGreaterThan(0);
    expect(light).toBeLessThan(800);
    expect(json('dusk', 'clip.json')).toMatchObject({ start: dusk, conditions: { light } });
  });

  it.skipIf(process.platform === 'win32')(
    'writes the map into a pipe, the same bytes as into a file',
    async () => {
      await weather('calm', 'for-file', '--wind', '5', '--show-map', 'map-file.png');
      execFileSync('mkfifo', [at('pipe')]);
      const reader = spawn('cat', [at('pipe')]);
      const closed = once(reader, 'close');
      const read: Buffer[] = [];
      reader.stdout.on('data', (bytes: Buffer) => read.push(bytes));
      const { code } = await weather('calm', 'for-pipe', '--wind', '5', '--show-map', 'pipe');
      await closed;
      expect(code).toBe(0);
      expect(Buffer.concat(read).equals(readFileSync(at('map-file.png')))).toBe(true);
      expect(statSync(at('pipe')).isFIFO()).toBe(true);
    },
  );

  it('shows what was taken for foliage', async () => {
    await weather('calm', 'mapped', '--wind', '5', '--show-map', 'map.png');
    const { data } = await sharp(at('map.png')).greyscale().raw().toBuffer({ resolveWithObject: true });
    const recorded = await sharp(at('calm', 'frames', '10.png'))
      .greyscale()
      .raw()
      .toBuffer();
    const changed = (fromX: number, toX: number) => {
      let count = 0;
      for (let y = 0; y < small.height; y++) {
        for (let x = fromX; x < toX; x++) {
          const i = y * small.width + x;
          if (Math.abs(data[i]! - recorded[i]!) > 8) count++;
        }
      }
      return count / ((toX - fromX) * small.height);
    };
    expect(changed(0, 30)).toBeGreaterThan(0.3);
    expect(changed(34, 64)).toBe(0);
  });
});

describe('sway measured on a windy clip', () => {
  it('gives back the factor that the windy clip was made with', async () => {
    await weather('calm', 'strong', '--wind', '4', '--sway', '2', '--seed', 'gusts');
    const windy = json('strong', 'clip.json');
    delete windy.simulated;
    writeFileSync(at('strong', 'clip.json'), JSON.stringify(windy));
    const { code, out, err } = await weather(
      ...['calm', 'fitted', '--wind', '4', '--seed', 'gusts', '--sway-from', 'strong', '--json'],
    );
    expect([code, messagesIn(err)]).toEqual([0, []]);
    const said = JSON.parse(out).simulated.assumed.join('; ');
    const factor = Number(/two clips.*branches go ([\d.]+) times/.exec(said)?.[1]);
    // What is assumed holds it back a little.
    expect(factor).toBeGreaterThan(1.5);
    expect(factor).toBeLessThan(2.5);
  });
});

describe('what cannot be done is refused in one line, and nothing is written', () => {
  it.each<[string, string[], RegExp]>([
    ['nothing asked for', [], /at least one of --wind/],
    ['brighter', ['--light', '9000'], /9000 lux is brighter.*8000 lux/],
    ['calmer', ['--wind', '0.5'], /Beaufort 0\.5 is less.*1\)/],
    ['no Beaufort number', ['--wind', '13'], /Beaufort number from 0 to 12/],
    ['no number', ['--rain', 'much'], /mm\/h from 0 to 200/],
    ['two winds', ['--wind', '3', '--wind-speed', '5'], /cannot be used with/],
    ['no time', ['--at', 'dusk'], /RFC 3339.*"dusk"/],
    ['sway from a clip of unknown wind', ['--wind', '4', '--sway-from', 'uneven'], /conditions\.wind/],
    ['sway from noise', ['--wind', '4', '--sway-from', 'noise'], /noise or a shaking camera, not wind/],
    ['sway from a frame in 10 s', ['--wind', '4', '--sway-from', 'seldom'], /0\.1 frames a second/],
    ['a map that cannot be written', ['--wind', '4', '--show-map', 'no/such/map.png'], /no\/such\/map\.png/],
    ['no such camera', ['--wind', '4', '--camera', 'none.json'], /none\.json/],
  ])('%s', async (_, args, message) => {
    const { code, out, err } = await weather('calm', 'refused', ...args);
    expect({ code, out, lines: err.trim().split('\n').length }).toEqual({ code: 2, out: '', lines: 1 });
    expect(err).toMatch(message);
    expect(existsSync(at('refused'))).toBe(false);
  });

  it('a place that is not known', async () => {
    const { code, err } = await weather('uneven', 'refused', '--at', '2026-06-21T21:30:00+01:00');
    expect({ code, lines: err.trim().split('\n').length }).toEqual({ code: 2, lines: 1 });
    expect(err).toMatch(/uneven\/clip\.json: place/);
  });

  it('a folder inside the clip', async () => {
    expect((await weather('calm', 'calm/frames/windy', '--wind', '4')).err).toMatch(/inside the clip/);
    expect(existsSync(at('calm', 'frames', 'windy'))).toBe(false);
    symlinkSync(at('calm', 'frames'), at('way-in'));
    expect((await weather('calm', 'way-in/windy', '--wind', '4')).err).toMatch(/inside the clip/);
    expect(existsSync(at('calm', 'frames', 'windy'))).toBe(false);
  });

  it('a folder that holds something', async () => {
    expect((await weather('calm', 'uneven', '--wind', '4')).err).toMatch(/already holds/);
  });

  it('a clip that is itself simulated', async () => {
    await weather('calm', 'twice', '--wind', '4');
    expect((await weather('twice', 'refused', '--rain', '4')).err).toMatch(/itself simulated/);
  });
});
