import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import { print, printRatio } from './measure.js';
import { taken, takenInTurn } from './processor.js';
import { scratch } from './recordings.js';

const FRAMES = 600;
const ROUNDS = 3;
const { folder, remove } = scratch();
afterAll(remove);
const has = (coder: string) =>
  spawnSync('ffmpeg', [
    '-v',
    'error',
    '-f',
    'lavfi',
    '-i',
    'nullsrc=s=64x64',
    '-frames:v',
    '1',
    '-c:v',
    coder,
    '-f',
    'null',
    '-',
  ]).status === 0;
const perchmark = (...args: string[]) => [process.execPath, 'bin/perchmark.js', ...args];
const decoding = (file: string) => [
  'ffmpeg',
  '-v',
  'error',
  '-nostdin',
  '-i',
  file,
  '-map',
  '0:v:0',
  '-f',
  'null',
  '-',
];

/** A picture of leaves under sensor noise, a square crossing it now and then: most of it stands still. */
function record(name: string, size: string, rate: number, coding: string[]): { file: string; clip: string } {
  const leaves = join(folder, 'leaves.png');
  const drawn = "nullsrc=s=1920x1080,geq=lum='random(1)*255':cb=128:cr=128,boxblur=3:2";
  execFileSync('ffmpeg', ['-v', 'error', '-y', '-f', 'lavfi', '-i', drawn, '-frames:v', '1', leaves]);
  const moves = `scale=${size},noise=alls=6:allf=t:all_seed=3,drawbox=x='mod(t*35,iw)':y=ih/2:w=iw/12:h=ih/12:t=fill,format=yuv420p`;
  const file = join(folder, `${name}.mp4`);
  const input = [
    '-loop',
    '1',
    '-framerate',
    String(rate),
    '-i',
    leaves,
    '-vf',
    moves,
    '-frames:v',
    String(FRAMES),
  ];
  execFileSync('ffmpeg', ['-v', 'error', '-y', ...input, ...coding, file]);
  const clip = join(folder, name);
  mkdirSync(clip);
  execFileSync('ln', [file, join(clip, 'v.mp4')]);
  writeFileSync(join(clip, 'clip.json'), JSON.stringify({ version: 1, frames: 'v.mp4' }));
  return { file, clip };
}

const h264 = [
  '-c:v',
  'libx264',
  '-preset',
  'veryfast',
  '-crf',
  '23',
  '-g',
  '50',
  '-colorspace',
  'bt709',
  '-color_range',
  'tv',
];
const settings = join(folder, 'settings.json');
writeFileSync(settings, JSON.stringify({ version: 1, threshold: 24, minimumArea: 100, cooldown: 10 }));
const slow = join(folder, 'slow.json');
writeFileSync(slow, JSON.stringify({ ...defaultCamera, analysis: { ...defaultCamera.analysis, rate: 2 } }));

/** A replay with nothing kept but what opening the clip keeps. */
function replay(clip: string, ...more: string[]) {
  const cache = join(folder, 'cache');
  rmSync(join(cache, 'evidence'), { recursive: true, force: true });
  return taken(perchmark('replay', clip, '--settings', settings, '--json', ...more), {
    PERCHMARK_CACHE: cache,
  });
}

describe.skipIf(!has('libx264'))('a video at the price of decoding it', () => {
  it.each([
    { name: 'H.264, 1920x1080', size: '1920:1080', rate: 5, coding: h264, coder: 'libx264' },
    { name: 'H.264, 1280x720', size: '1280:720', rate: 5, coding: h264, coder: 'libx264' },
    {
      name: 'HEVC, 1280x720',
      size: '1280:720',
      rate: 5,
      coding: ['-c:v', 'libx265', '-preset', 'veryfast', '-crf', '23', '-x265-params', 'log-level=none'],
      coder: 'libx265',
    },
  ])('$name', ({ name, size, rate, coding, coder }) => {
    if (!has(coder)) return;
    const { file, clip } = record(name, size, rate, coding);
    let made = 0;
    // Opened once, so that what is timed is reading.
    replay(clip);
    const times = takenInTurn(
      {
        'decoding alone': () => taken(decoding(file)),
        'replay, evidence not kept': () => replay(clip),
        'add, linked': () =>
          taken(perchmark('add', file, join(folder, `added ${made}`), '--link'), {
            PERCHMARK_CACHE: join(folder, `cache ${made++}`),
          }),
      },
      ROUNDS,
    );
    const alone = times['decoding alone'];
    const read = times['replay, evidence not kept'];
    const of = (what: 'processor' | 'wall') =>
      Object.fromEntries(Object.entries(times).map(([subject, one]) => [subject, one[what]]));
    print(`${name}, ${FRAMES} frames, processor time of whole processes`, of('processor'), FRAMES);
    print(`${name}, wall time`, of('wall'), FRAMES);
    const share = alone.processor.median / read.processor.median;
    printRatio('processor time of decoding alone / of replay', share, 'at least 0.75');
    printRatio(
      'frames a second of replay / of decoding alone',
      alone.wall.median / read.wall.median,
      'at least 0.75',
    );
    printRatio(
      'add / decoding alone',
      times['add, linked'].processor.median / alone.processor.median,
      'of so few frames',
    );
    expect(share).toBeGreaterThanOrEqual(0.75);
  });

  it('a camera that compares 2 frames a second of 25', () => {
    const { file, clip } = record('fast', '1280:720', 25, h264);
    replay(clip, '--camera', slow);
    const times = takenInTurn(
      { 'decoding alone': () => taken(decoding(file)), replay: () => replay(clip, '--camera', slow) },
      ROUNDS,
    );
    const processor = { 'decoding alone': times['decoding alone'].processor, replay: times.replay.processor };
    print('2 of 25 frames a second, 1280x720, processor time', processor, FRAMES);
    const share = processor['decoding alone'].median / processor.replay.median;
    printRatio('processor time of decoding alone / of replay', share, 'at least 0.85');
    expect(share).toBeGreaterThanOrEqual(0.85);
  });
});
