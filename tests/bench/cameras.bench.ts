import { execFileSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { print, printRatio } from './measure.js';
import { taken, takenInTurn } from './processor.js';
import { scratch, writeStills } from './recordings.js';

const FRAMES = 500;
const ROUNDS = 3;
const child = fileURLToPath(new URL('cameras-child.js', import.meta.url));
const { folder, remove } = scratch();
afterAll(remove);

const cameras = ['320x240@5', '160x120@5', '160x120@2', '80x60@2'];
/**
 * Reading for four cameras at once against reading for each by itself: a video is decoded once for all; stills once for each
 * factor by which they are reduced, which here are three.
 */
const MOST = { stills: 1, video: 0.6 };

let stills: string;
const video = join(folder, 'video');
beforeAll(async () => {
  stills = await writeStills(join(folder, 'stills'), FRAMES, 0.2);
  mkdirSync(video);
  execFileSync('ffmpeg', [
    ...['-v', 'error', '-framerate', '5', '-i', join(stills, 'frames', '%d.jpg')],
    ...['-c:v', 'libx264', '-preset', 'veryfast', '-crf', '20', '-g', '50', join(video, 'video.mp4')],
  ]);
  writeFileSync(join(video, 'clip.json'), JSON.stringify({ version: 1, frames: 'video.mp4' }));
});

it.each(['stills', 'video'] as const)('several cameras in one reading: %s', (kind) => {
  const dir = kind === 'stills' ? stills : video;
  const reading = (how: string, n: number) => () =>
    taken([process.execPath, child, dir, how, ...cameras.slice(0, n)]);
  const times = takenInTurn(
    {
      'opened, nothing read': reading('together', 0),
      'one camera': reading('together', 1),
      'two in one reading': reading('together', 2),
      'four in one reading': reading('together', 4),
      'two, each by itself': reading('apart', 2),
      'four, each by itself': reading('apart', 4),
    },
    ROUNDS,
  );
  const rows = Object.fromEntries(Object.entries(times).map(([name, { processor }]) => [name, processor]));
  print(`${FRAMES} ${kind} of 640x480 as cameras of ${cameras.join(', ')}: processor time`, rows);
  const read = (name: keyof typeof times) =>
    times[name].processor.low - times['opened, nothing read'].processor.low;
  printRatio('two in one reading / one camera', read('two in one reading') / read('one camera'), 'measured');
  printRatio(
    'four in one reading / one camera',
    read('four in one reading') / read('one camera'),
    'measured',
  );
  const ratio = read('four in one reading') / read('four, each by itself');
  printRatio('four in one reading / each by itself', ratio, `at most ${MOST[kind]}`);
  expect(ratio).toBeLessThanOrEqual(MOST[kind]);
});
