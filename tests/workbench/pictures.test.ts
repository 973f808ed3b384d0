import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { expect, it, onTestFinished, vi } from 'vitest';
import type { Look } from '../../src/clip/look.js';
import type { Clip } from '../../src/clip/open.js';
import { Pictures } from '../../src/workbench/pictures.js';
import type { ClipOpened, StreamLine } from '../../src/workbench/protocol.js';
import { drawFrames, writeClip } from '../support/clips.js';
import { scratch, served } from '../support/workbench.js';

const walks = (k: number) => ({ x: k, y: 20, size: 8, level: 200 });

async function stills(count = 30): Promise<string> {
  const folder = scratch();
  await writeClip(join(folder, 'hedge'), drawFrames(count, walks, 'pictures', 0), null);
  return folder;
}

async function opened(address: string): Promise<ClipOpened> {
  const answer = await fetch(`${address}api/clips/hedge/open`, { method: 'POST' });
  const lines = (await answer.text()).trim().split('\n');
  const last = JSON.parse(lines.at(-1)!) as StreamLine<ClipOpened>;
  if (!('result' in last)) throw new Error(lines.at(-1));
  return last.result;
}

/** Mean grey level of a picture, and its size. */
async function seen(answer: Response) {
  expect(answer.status, await answer.clone().text()).toBe(200);
  const { data, info } = await sharp(await answer.arrayBuffer())
    .greyscale()
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { width: info.width, height: info.height, mean: data.reduce((a, b) => a + b, 0) / data.length };
}

it('gives a frame, a part of it, or a smaller one', async () => {
  const address = await served(await stills());
  const frame = `${address}api/clips/hedge/frames/10`;
  expect(await seen(await fetch(frame))).toMatchObject({ width: 64, height: 48 });
  expect(await seen(await fetch(`${frame}?width=32`))).toMatchObject({ width: 32, height: 24 });
  const square = await seen(await fetch(`${frame}?box=${10 / 64},${20 / 48},${8 / 64},${8 / 48}`));
  expect([square.width, square.height, Math.round(square.mean / 4)]).toEqual([8, 8, 50]);
});

it.each([
  ['frames/30', /frame: expected 0 to 29, found 30/],
  ['frames/-1', /frame: expected/],
  ['frames/1e1', /frame: expected/],
  ['frames/1?width=0', /width: expected/],
  ['frames/1?width=99999', /width: expected/],
  ['frames/1?box=0,0,0,1', /box: expected/],
  ['frames/1?box=0.5,0,0.6,1', /box: expected/],
  ['frames/1?box=0,0,1,1,1', /box: expected/],
  ['frames/1?box=a', /box: expected/],
])('refuses %s in one line', async (path, says) => {
  const answer = await fetch(`${await served(await stills())}api/clips/hedge/${path}`);
  expect(answer.status).toBe(400);
  expect(((await answer.json()) as { message: string }).message).toMatch(says);
});

it('lets the browser keep what its address names by content, and nothing else', async () => {
  const address = await served(await stills());
  const { version } = await opened(address);
  const keep = async (query: string) =>
    (await fetch(`${address}api/clips/hedge/frames/1${query}`)).headers.get('cache-control');
  expect(await keep(`?v=${version}`)).toMatch(/^private, max-age=\d+/);
  expect(await keep('')).toBe('no-store');
  expect(await keep('?v=another')).toBe('no-store');
});

/** A recording of so many frames, and pictures of it that are decoded when told to: each the number of its frame. */
function byHand(kind: 'stills' | 'video', frames: number) {
  const begun: { first: number; end: number; stopped: () => boolean; go: () => void }[] = [];
  const pictures = new Pictures(async function* ({ first, end, stop }) {
    let go = (): void => undefined;
    const told = new Promise<void>((done) => {
      go = done;
    });
    stop.signal.addEventListener('abort', () => go());
    begun.push({ first, end, stopped: () => stop.signal.aborted, go });
    await told;
    for (let k = first; k < end; k++) {
      stop.signal.throwIfAborted();
      yield Uint8Array.of(k);
    }
  });
  const clip = { contentKey: 'k', times: new Float64Array(frames), source: { kind } } as Clip;
  const picture = (k: number, box: Look['box'] = null, signal?: AbortSignal) =>
    pictures.picture(clip, k, { width: 64, box }, signal);
  return { begun, picture };
}

const settled = () => new Promise((done) => setImmediate(done));
const part = [0, 0, 1, 1] as const;

it('decodes two at a time, and not what nobody waits for any more', async () => {
  const { begun, picture } = byHand('stills', 30);
  const stop = new AbortController();
  const given = [0, 1, 2].map((k) => picture(k, part, stop.signal));
  const kept = picture(9, part);
  expect(begun.map(({ first }) => first)).toEqual([0, 1]);
  stop.abort(new Error('gone'));
  for (const one of given) await expect(one).rejects.toThrow('gone');
  expect(begun.slice(0, 2).map(({ stopped }) => stopped())).toEqual([true, true]);
  await settled();
  expect(begun.map(({ first }) => first)).toEqual([0, 1, 9]);
  begun[2]!.go();
  expect(await kept).toEqual(Uint8Array.of(9));
});

it('decodes a run of a video at once, and the one that comes next in advance', async () => {
  const { begun, picture } = byHand('video', 100);
  const asked = picture(30);
  expect(begun.map(({ first, end }) => [first, end])).toEqual([
    [24, 48],
    [0, 24],
  ]);
  for (const one of begun) one.go();
  expect(await asked).toEqual(Uint8Array.of(30));
  await settled();
  for (const k of [31, 47, 24, 23]) expect(await picture(k)).toEqual(Uint8Array.of(k));
  expect(begun.filter(({ first }) => first < 48)).toHaveLength(2);
});

it('makes room for what is asked for where nobody waits', async () => {
  const { begun, picture } = byHand('video', 1000);
  const first = picture(30);
  begun[0]!.go();
  await first;
  await settled();
  const [, ahead] = begun;
  expect(ahead!.stopped()).toBe(false);
  void picture(500);
  const wanted = picture(800);
  await settled();
  expect(ahead!.stopped()).toBe(true);
  begun.find(({ first: k }) => k === 792)!.go();
  expect(await wanted).toEqual(Uint8Array.of(800 % 256));
});

it('tells whoever waits for what does not come', async () => {
  const pictures = new Pictures(async function* () {
    yield Uint8Array.of(0);
  });
  const clip = { contentKey: 'k', times: new Float64Array(9), source: { kind: 'video' } } as Clip;
  const [first, fifth] = [0, 5].map((k) => pictures.picture(clip, k, { width: 64, box: null }));
  expect(await first).toEqual(Uint8Array.of(0));
  await expect(fifth).rejects.toThrow('frame 1, counted from 0: the recording ends before it');
});

it('takes no harm from pages that go away, and has nothing to say of it', async () => {
  const said = vi.spyOn(process.stderr, 'write').mockImplementation(() => true);
  const printed = vi.spyOn(console, 'info');
  onTestFinished(() => {
    said.mockRestore();
    printed.mockRestore();
  });
  const address = await served(await stills());
  const { times } = await opened(address);
  const stop = new AbortController();
  const asked = times.map((_, k) =>
    fetch(`${address}api/clips/hedge/frames/${k}`, { signal: stop.signal }).then((answer) =>
      answer.arrayBuffer(),
    ),
  );
  await asked[0];
  stop.abort();
  await Promise.allSettled(asked);
  expect(await seen(await fetch(`${address}api/clips/hedge/frames/29`))).toMatchObject({ width: 64 });
  expect([said.mock.calls, printed.mock.calls]).toEqual([[], []]);
});

const missing = spawnSync('ffmpeg', ['-version']).error !== undefined;
if (missing) console.warn('left out: a video in the workbench, because ffmpeg is not on the PATH');

it.skipIf(missing)('gives the frame asked for of a video', async () => {
  const folder = scratch();
  mkdirSync(join(folder, 'hedge'));
  // Grey level 4 * the frame's number throughout.
  const film = ['-f', 'lavfi', '-i', 'color=black:s=64x48:r=10:d=6', '-vf', 'format=gray,geq=lum=4*N'];
  execFileSync('ffmpeg', ['-v', 'error', ...film, '-c:v', 'ffv1', join(folder, 'hedge', 'film.mkv')]);
  writeFileSync(join(folder, 'hedge', 'clip.json'), JSON.stringify({ version: 1, frames: 'film.mkv' }));
  const address = await served(folder);
  for (const k of [50, 51, 49, 7, 59, 0]) {
    const { mean } = await seen(await fetch(`${address}api/clips/hedge/frames/${k}`));
    expect(Math.round(mean / 4)).toBe(k);
  }
});
