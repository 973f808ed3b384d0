import { execFileSync, spawnSync } from 'node:child_process';
import { chmod, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { decodedFrames } from '../../src/clip/frame-list.js';
import { openClip } from '../../src/clip/open.js';
import { framesByPackets } from '../../src/clip/packet-times.js';
import { read, tempCache, tempDir, writeFiles } from './fixtures.js';

const missing = spawnSync('ffmpeg', ['-version']).error !== undefined;
if (missing) console.warn('left out: times of videos by their packets, because ffmpeg is not on the PATH');

const ffmpeg = (...args: string[]) =>
  execFileSync('ffmpeg', ['-v', 'error', '-y', ...args], { stdio: 'pipe' });

/** A clip folder with a moving test picture of so many frames, 25 a second. */
async function filmed(name: string, output: string[], frames = 600): Promise<{ dir: string; file: string }> {
  const dir = await tempDir();
  const file = join(dir, name);
  const source = ['-f', 'lavfi', '-i', 'testsrc=size=64x48:rate=25', '-frames:v', String(frames)];
  ffmpeg(...source, '-pix_fmt', 'yuv420p', ...output, file);
  await writeFiles(dir, { 'clip.json': { version: 1, frames: name } });
  return { dir, file };
}

const h264 = ['-c:v', 'libx264', '-bf', '3', '-g', '50'];
const jpegs = ['-c:v', 'mjpeg', '-q:v', '3'];

/** Zeroes the middle of the packet at some share of a video of pictures each by itself; its size stays. */
async function blot(file: string, share: number): Promise<void> {
  const bytes = await readFile(file);
  const start = bytes.indexOf(Buffer.from([0xff, 0xd8, 0xff]), Math.floor(share * bytes.length));
  bytes.fill(0, start, start + 1000);
  await writeFile(file, bytes);
}

/** Puts a shell's words before ffprobe, which notes what it was asked in a file; they may change its arguments. */
async function beforeFfprobe(words: string): Promise<string> {
  const dir = await tempDir();
  const real = execFileSync('sh', ['-c', 'command -v ffprobe'], { encoding: 'utf8' }).trim();
  const [asked, tool] = [join(dir, 'asked'), join(dir, 'ffprobe')];
  await writeFile(tool, `#!/bin/bash\necho "$*" >> '${asked}'\n${words}\nexec '${real}' "$@"\n`);
  await chmod(tool, 0o755);
  vi.stubEnv('PATH', `${dir}:${process.env.PATH}`);
  return asked;
}
afterEach(() => {
  vi.unstubAllEnvs();
});

describe.skipIf(missing)('the frames of a video by its packets', () => {
  test.each([
    ['H.264 in MP4', 'v.mp4', h264],
    ['H.264 in Matroska', 'v.mkv', h264],
    ['H.264 with open groups', 'v.mp4', [...h264, '-x264-params', 'open-gop=1:b-pyramid=normal']],
    ['MPEG-4 in MP4', 'v.mp4', ['-c:v', 'mpeg4', '-bf', '2', '-g', '50']],
    ['HEVC', 'v.mp4', ['-c:v', 'libx265', '-x265-params', 'log-level=none:keyint=50']],
    ['pictures each by itself', 'v.mkv', jpegs],
    [
      'uneven times',
      'v.mkv',
      [
        ...h264,
        '-vf',
        "settb=1/1000,setpts='N*40+30*sin(N)'",
        '-enc_time_base',
        '1:1000',
        '-fps_mode',
        'passthrough',
      ],
    ],
  ])('are those that decode: %s', async (_, name, output) => {
    const { file } = await filmed(name, output);
    const { code: __, ...decoded } = await decodedFrames(file, {});
    const told = await framesByPackets(file);
    if (!('frames' in told)) throw new Error(`doubted: ${told.doubt}`);
    expect(told.frames.times).toEqual(decoded.times);
    expect(told.frames.keyFrames).toEqual(decoded.keyFrames);
  });

  test('are asked for and tried in two runs', async () => {
    const { file } = await filmed('v.mp4', h264);
    const asked = await beforeFfprobe('');
    expect(await framesByPackets(file)).toHaveProperty('frames');
    expect((await readFile(asked, 'utf8')).trim().split('\n')).toHaveLength(2);
  });

  test('are believed of an ffprobe that shows nothing after the first of several places', async () => {
    const { file } = await filmed('v.mp4', h264);
    const firstOnly = `a=(); for x in "$@"; do case "$x" in %+#*,*) x="\${x%%,*}";; esac; a+=("$x"); done; set -- "\${a[@]}"`;
    const asked = await beforeFfprobe(firstOnly);
    expect(await framesByPackets(file)).toHaveProperty('frames');
    expect((await readFile(asked, 'utf8')).trim().split('\n')).toHaveLength(5);
  });

  test('are believed where only a place entered in the middle is complained of', async () => {
    const { file } = await filmed('v.mp4', h264);
    const asked = await beforeFfprobe('case "$*" in *,*%*) echo "reference picture missing" >&2;; esac');
    expect(await framesByPackets(file)).toHaveProperty('frames');
    expect((await readFile(asked, 'utf8')).trim().split('\n')).toHaveLength(3);
  });

  test('are not asked for where it is short', async () => {
    const { file } = await filmed('v.mp4', h264, 60);
    expect(await framesByPackets(file)).toEqual({ doubt: null });
  });

  test.each([
    ['H.264 bare', async () => (await filmed('v.h264', h264)).file, /have no time/],
    [
      'one key frame',
      async () => (await filmed('v.mp4', [...h264, '-g', '9999'])).file,
      /too few key frames/,
    ],
    [
      'a part left out by an edit list',
      async () => {
        const { dir, file } = await filmed('v.mp4', h264, 700);
        ffmpeg('-ss', '1.1', '-i', file, '-c', 'copy', join(dir, 'cut.mp4'));
        return join(dir, 'cut.mp4');
      },
      /not to be shown/,
    ],
    [
      'a broken tail',
      async () => {
        const { file } = await filmed('v.mkv', h264);
        const whole = await readFile(file);
        await writeFile(file, whole.subarray(0, whole.length - 10_000));
        return file;
      },
      /at its end|damaged/,
    ],
    [
      'a picture that does not decode at the start',
      async () => {
        const { file } = await filmed('v.mkv', jpegs);
        await blot(file, 0.02);
        return file;
      },
      /at its start/,
    ],
  ])('are doubted: %s', async (_, make, doubt) => {
    expect(await framesByPackets(await make())).toEqual({ doubt: expect.stringMatching(doubt) });
  });

  test('where they are doubted all is decoded, and that is said once', async () => {
    const { dir } = await filmed('v.mp4', [...h264, '-g', '9999']);
    const cache = await tempCache();
    const [first, second] = [await openClip(dir, { cache }), await openClip(dir, { cache })];
    expect(first.times).toHaveLength(600);
    expect(first.warnings.join()).toMatch(/v\.mp4: all of it was decoded .* \(it has too few key frames/);
    expect(second.warnings.join()).not.toMatch(/decoded/);
  });

  test('where fewer decode than were promised that is one line, and the next run knows', async () => {
    const { dir, file } = await filmed('v.mkv', jpegs);
    await blot(file, 0.25);
    const cache = await tempCache();
    const clip = await openClip(dir, { cache });
    expect(clip.times).toHaveLength(600);
    await expect(read(clip)).rejects.toMatchObject({
      code: 'bad-video',
      message: expect.stringMatching(
        /v\.mkv: 599 frames decode, but its container promises 600.*same command again/,
      ),
    });
    const again = await openClip(dir, { cache });
    expect(again.times).toHaveLength(599);
    expect(again.warnings.join()).toMatch(/599 frames decode, 600 were promised/);
    expect(await read(again)).toHaveLength(599);
  });

  test('damage that leaves the number of frames is told once all was read, once, and when it is opened again', async () => {
    const { dir, file } = await filmed('v.mp4', ['-c:v', 'mpeg4', '-q:v', '2', '-g', '50']);
    const bytes = await readFile(file);
    const at = Math.floor(0.3 * bytes.length);
    bytes.fill(0xff, at, at + 20);
    await writeFile(file, bytes);
    const cache = await tempCache();
    const told: string[] = [];
    const clip = await openClip(dir, { cache, onWarning: (line) => told.push(line) });
    expect([...clip.warnings, ...told].join()).not.toMatch(/damage/);
    expect(await read(clip)).toHaveLength(600);
    await read(clip);
    expect(told).toEqual([expect.stringMatching(/v\.mp4: it is damaged \(ffmpeg: \w/)]);
    expect((await openClip(dir, { cache })).warnings).toContain(told[0]);
  });
});
