import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeFiles } from '../clip/fixtures.js';
import { spec } from '../scene/specs.js';
import { drawFrames, small, smallCamera } from '../support/clips.js';
import { commandIn } from '../support/command.js';
import { damages } from '../support/damages.js';

const folder = mkdtempSync(join(tmpdir(), 'kept-'));
const whole = join(folder, 'whole');
const cache = join(folder, 'cache');
afterAll(() => rmSync(folder, { recursive: true }));

const hasFfmpeg = spawnSync('ffmpeg', ['-version']).status === 0;
const clips = ['scene.json', 'stills', ...(hasFfmpeg ? ['video'] : [])];
const options = ['--camera', 'camera.json', '--json'];
/** They keep all that is kept; what a damaged cache must not change is what they say. */
const diagnose = ['diagnose', ...clips, '--settings', 'settings.json', ...options];
const tune = ['tune', 'stills', ...options];
/** Every kind of file that the cache holds after these. Scenes that are drawn anew have other content entries, so they come last. */
const kinds = [
  'content',
  'stamps',
  ...(hasFfmpeg ? ['probe'] : []),
  'evidence',
  'looks',
  'pieces',
  'sway',
  'scenes',
];

async function said(...lines: string[][]): Promise<string[]> {
  const out: string[] = [];
  for (const line of lines) {
    const ran = await commandIn(folder, cache)(...line);
    expect(ran.code).toBe(0);
    expect(ran.err).not.toMatch(/cannot be written|fault/);
    out.push(ran.out);
  }
  return out;
}

function filesIn(place: string): string[] {
  return readdirSync(place, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map(({ parentPath, name }) => join(parentPath, name).slice(place.length + 1))
    .sort();
}

/** A square crosses every six seconds, labelled but for every third time. */
const frames = drawFrames(
  90,
  (k) => (k % 30 < 8 ? { x: 2 + (k % 30) * 6, y: 20, size: 9, level: 190 } : null),
  'kept',
);
const visits = [0, 1].map((i) => ({ start: 6 * i, end: 6 * i + 1.6, type: 'animal' }));
const foliage = [
  [
    [0, 0],
    [1, 0],
    [1, 0.3],
    [0, 0.3],
  ],
];

async function writeClips(): Promise<void> {
  const stills: Record<string, object> = {
    'clip.json': {
      version: 1,
      frames: 'frames/*.jpg',
      times: 'exif',
      conditions: { wind: 1, rain: 0, light: 20_000 },
    },
    'labels.json': { version: 1, visits, foliage },
  };
  for (const [k, grey] of frames.entries()) {
    const [second, fifth] = [Math.floor(k / 5), k % 5];
    const exif = {
      DateTimeOriginal: `2026:05:04 06:1${Math.floor(second / 60)}:${String(second % 60).padStart(2, '0')}`,
      SubSecTimeOriginal: String(2 * fifth),
    };
    const jpeg = sharp(grey, { raw: { ...small, channels: 1 } })
      .withExif({ IFD2: exif })
      .jpeg({ quality: 95 });
    stills[`frames/${String(k).padStart(3, '0')}.jpg`] = (await jpeg.toBuffer()) as unknown as object;
  }
  await writeFiles(join(folder, 'stills'), stills);
  if (!hasFfmpeg) return;
  await writeFiles(join(folder, 'video'), { 'clip.json': { version: 1, frames: 'v.mkv', rate: 5 } });
  const args = ['-v', 'error', '-i', join(folder, 'stills', 'frames', '%03d.jpg'), '-c:v', 'ffv1'];
  expect(spawnSync('ffmpeg', [...args, join(folder, 'video', 'v.mkv')]).status).toBe(0);
}

let before: string[];
beforeAll(async () => {
  await writeClips();
  const scene = spec({
    seconds: 8,
    ...small,
    conditions: { wind: 5, rain: 0, light: 12_000 },
    insects: 2000,
  });
  writeFileSync(join(folder, 'scene.json'), JSON.stringify(scene));
  writeFileSync(join(folder, 'camera.json'), JSON.stringify(smallCamera));
  writeFileSync(
    join(folder, 'settings.json'),
    JSON.stringify({ version: 1, threshold: 18, minimumArea: 4, cooldown: 1 }),
  );
  before = await said(diagnose, tune);
  // A content key is kept from the second reading on, for the files were too fresh for the first.
  await new Promise((resolve) => setTimeout(resolve, 2100));
  expect(await said(diagnose, tune)).toEqual(before);
  cpSync(cache, whole, { recursive: true });
});

it('the cache holds files of every kind, and nothing else', () => {
  // When it was weighed last is noted beside them.
  const found = new Set(filesIn(whole).map((file) => file.split('/')[0]));
  expect(found.delete('weighed')).toBe(true);
  expect([...found].sort()).toEqual([...kinds].sort());
  expect(before.join()).not.toMatch(/NaN|null,\n\s+"share"/);
});

describe.each(kinds)('a kept file of %s', (kind) => {
  it.each(Object.keys(damages))('changes nothing that is said, and is made again: %s', async (damage) => {
    const files = filesIn(join(whole, kind));
    // The first, the last and one between are of different clips, or different files of one.
    const hit = new Set([files[0]!, files[files.length >> 1]!, files.at(-1)!]);
    for (const file of hit) damages[damage]!(join(cache, kind, file));
    // Of all kinds tune alone keeps only evidence, and how foliage sways.
    const lines = ['evidence', 'sway'].includes(kind) ? [diagnose, tune] : [diagnose];
    expect(await said(...lines)).toEqual(before.slice(0, lines.length));
    // Where pictures changed is noted when a clip is first read, and asked for only where masks are looked for.
    if (kind === 'pieces') {
      for (const file of hit) {
        rmSync(join(cache, kind, file), { recursive: true, force: true });
        cpSync(join(whole, kind, file), join(cache, kind, file));
      }
      return;
    }
    for (const file of hit) {
      const again = readFileSync(join(cache, kind, file));
      expect(again.equals(readFileSync(join(whole, kind, file))), file).toBe(true);
    }
  });
});

it('so does a cache that is gone, or a file in the place of a kind', async () => {
  rmSync(cache, { recursive: true });
  expect(await said(diagnose, tune)).toEqual(before);
  for (const kind of kinds) {
    rmSync(join(cache, kind), { recursive: true });
    writeFileSync(join(cache, kind), 'no folder');
  }
  expect(await said(diagnose, tune)).toEqual(before);
});
