import { execFileSync, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  cpSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  readlinkSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { spec } from '../scene/specs.js';
import { drawFrames, small, smallCamera } from '../support/clips.js';

export const hasFfmpeg = spawnSync('ffmpeg', ['-version']).status === 0;

/** A folder as a user has it, small enough for thousands of runs, and the command lines that make sense in it. */
export interface World {
  folder: string;
  /** Each verb with all that it may write going below out/; {out} stands for that. */
  lines: Record<string, readonly string[]>;
  remove: () => void;
}

const FRAMES = 40;
const path = (k: number) => {
  if (k === 22) return { x: 5, y: 5, size: 14, level: 160 };
  return k % 15 < 6 ? { x: 2 + (k % 15) * 8, y: 20, size: 9, level: 190 } : null;
};
const labels = {
  version: 1,
  visits: [
    { start: 0, end: 1, type: 'animal', name: 'wren', box: [0, 0.3, 1, 0.7] },
    { start: 6, end: 7.2, type: 'animal' },
    { start: 7.4, end: 7.8, type: 'human' },
  ],
  ignored: [{ start: 2, end: 2.4, why: 'setting up' }],
  reviewed: [{ start: 0, end: 8 }],
  mask: [
    [
      [0, 0],
      [0.1, 0],
      [0.1, 0.1],
    ],
  ],
  foliage: [
    [
      [0, 0],
      [1, 0],
      [1, 0.3],
      [0, 0.3],
    ],
  ],
};
const about = {
  title: 'a clip',
  site: 'the log pile',
  start: '2026-05-04T06:10:00+01:00',
  place: { latitude: 51, longitude: -3 },
  conditions: { wind: 1, rain: 0, light: 20_000 },
  scene: { subject: 1.8, foliage: 2, height: 0.5, mount: 'post', cover: false },
};

export async function makeWorld(): Promise<World> {
  const folder = mkdtempSync(join(tmpdir(), 'torture-'));
  const at = (...names: string[]) => join(folder, ...names);
  const json = (name: string, value: object) =>
    writeFileSync(at(name), `${JSON.stringify(value, null, 1)}\n`);
  const frames = drawFrames(FRAMES, path, 'torture');
  for (const name of ['jpegs', 'pngs', 'video', 'raw', 'out']) mkdirSync(at(name));
  for (const [k, grey] of frames.entries()) {
    const picture = sharp(grey, { raw: { ...small, channels: 1 } });
    const jpeg = await picture.clone().jpeg({ quality: 95 }).toBuffer();
    writeFileSync(at('jpegs', `${String(k).padStart(3, '0')}.jpg`), jpeg);
    const milliseconds = String(200 * (k % 5)).padStart(3, '0');
    const stamp = `20260504_0610${String(Math.floor(k / 5)).padStart(2, '0')}_${milliseconds}`;
    writeFileSync(at('pngs', `${stamp}.png`), await picture.clone().png().toBuffer());
    if (k < 12) writeFileSync(at('raw', `${stamp}.jpg`), jpeg);
  }
  json('jpegs/clip.json', { version: 1, frames: '*.jpg', rate: 5, ...about });
  json('jpegs/labels.json', labels);
  json('pngs/clip.json', { version: 1, frames: '*.png', times: 'names' });
  json('pngs/labels.json', { version: 1, visits: labels.visits });
  if (hasFfmpeg) {
    const args = [
      '-v',
      'error',
      '-framerate',
      '5',
      '-i',
      at('jpegs', '%03d.jpg'),
      '-c:v',
      'mpeg4',
      '-q:v',
      '3',
    ];
    execFileSync('ffmpeg', [...args, at('video', 'v.mp4')]);
    json('video/clip.json', { version: 1, frames: 'v.mp4' });
    json('video/labels.json', { version: 1, visits: labels.visits });
  }
  json('scene.json', spec({ seconds: 5, ...small, insects: 900, visits: { species: { blackbird: 1 } } }));
  json('camera.json', smallCamera);
  json('settings.json', { version: 1, threshold: 18, minimumArea: 4, cooldown: 1 });
  json('other.json', { version: 1, controls: { sensitivity: 4, minimumArea: 16, cooldown: 4 } });
  json('suite.json', {
    version: 1,
    clips: ['jpegs', { clip: 'pngs', limits: { recall: 0.5 } }],
    camera: 'camera.json',
    settings: 'settings.json',
    limits: { falsePerHour: 2000 },
  });
  return { folder, lines: linesOf(), remove: () => rmSync(folder, { recursive: true, force: true }) };
}

function linesOf(): World['lines'] {
  const clips = ['jpegs', 'pngs', 'scene.json', ...(hasFfmpeg ? ['video'] : [])];
  const using = ['--camera', 'camera.json'];
  const under = [...using, '--settings', 'settings.json', '--json'];
  return {
    'replay of one': ['replay', 'jpegs', ...under],
    replay: ['replay', ...clips, ...under],
    'replay with a report': ['replay', 'jpegs', ...under, '--report', '{out}/replay.html'],
    tune: ['tune', 'jpegs', 'pngs', 'scene.json', ...using, '--json', '--report', '{out}/tune.html'],
    diagnose: [
      ...['diagnose', ...clips, ...under, '--against', 'other.json'],
      ...['--report', '{out}/why.html', '--write-mask', '{out}/mask.json'],
    ],
    check: ['check', 'suite.json', '--json', '--junit', '{out}/junit.xml', '--report', '{out}/check.html'],
    weather: [
      'weather',
      'jpegs',
      '{out}/windy',
      '--wind',
      '5',
      '--rain',
      '3',
      '--light',
      '50',
      '--json',
      '--show-map',
      '{out}/map.png',
    ],
    add: ['add', 'raw', '{out}/added', '--json'],
  };
}

/** A verb's words, writing below `out`. */
export function wordsOf(world: World, name: string, out = 'out'): string[] {
  return world.lines[name]!.map((word) => word.replace('{out}', out));
}

/** All that lies in a folder, by its path: a digest of what is in each file. */
export function contentsOf(folder: string, without: readonly string[] = []): Record<string, string> {
  const found: Record<string, string> = {};
  const walk = (below: string) => {
    for (const name of readdirSync(join(folder, below)).sort()) {
      const path = join(below, name);
      if (without.includes(path)) continue;
      const info = lstatSync(join(folder, path));
      if (info.isDirectory()) {
        found[path] = 'folder';
        walk(path);
      } else if (info.isSymbolicLink()) found[path] = `-> ${readlinkSync(join(folder, path))}`;
      else
        found[path] = createHash('sha256')
          .update(readFileSync(join(folder, path)))
          .digest('hex');
    }
  };
  walk('');
  return found;
}

/** A world of its own with the same files, for what cannot be undone. */
export function copyOf(world: World): World {
  const folder = mkdtempSync(join(tmpdir(), 'torture-'));
  cpSync(world.folder, folder, { recursive: true, preserveTimestamps: true });
  return { ...world, folder, remove: () => rmSync(folder, { recursive: true, force: true }) };
}

/** Empties what runs write to, so that the next begins like the first. */
export function emptyOut(world: World): void {
  rmSync(join(world.folder, 'out'), { recursive: true, force: true });
  mkdirSync(join(world.folder, 'out'));
}
