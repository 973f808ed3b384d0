import { execFile } from 'node:child_process';
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';

const bin = fileURLToPath(new URL('../../bin/perchmark.js', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'damaged-'));
const whole = join(folder, 'whole');
const cache = join(folder, 'cache');
const evidence = () => readdirSync(join(whole, 'evidence'));
let recorded: string[];
let said: string;

function tune(kept: string, ...more: string[]): Promise<{ code: number; out: string; err: string }> {
  const args = [bin, 'tune', 'clip', '--camera', 'camera.json', '--json', ...more];
  return new Promise((done) => {
    execFile(
      process.execPath,
      args,
      { env: { ...process.env, PERCHMARK_CACHE: kept }, cwd: folder },
      (error, out, err) => done({ code: error ? Number(error.code) : 0, out, err }),
    );
  });
}

beforeAll(async () => {
  const path = (k: number) =>
    k >= 20 && k <= 30 ? { x: 2 + (k - 20) * 5, y: 20, size: 8, level: 190 } : null;
  const foliage = [
    [
      [0, 0],
      [1, 0],
      [1, 0.5],
      [0, 0.5],
    ],
  ];
  await writeClip(
    join(folder, 'clip'),
    drawFrames(100, path, 'damaged', 20),
    { version: 1, visits: [{ start: 4, end: 6, type: 'animal' }], foliage },
    { rate: 5, conditions: { wind: 1, rain: 0, light: 20_000 } },
  );
  writeFileSync(join(folder, 'camera.json'), JSON.stringify(smallCamera));
  expect((await tune(whole, '--recorded-only')).code).toBe(0);
  recorded = evidence();
  said = (await tune(whole)).out;
  expect(evidence().length).toBeGreaterThan(recorded.length);
});
afterAll(() => rmSync(folder, { recursive: true }));

const damages: Record<string, (file: string) => void> = {
  flipped: (file) => {
    const bytes = readFileSync(file);
    bytes[bytes.length - 9]! ^= 4;
    writeFileSync(file, bytes);
  },
  truncated: (file) => truncateSync(file, readFileSync(file).length >> 1),
  zeroed: (file) => writeFileSync(file, Buffer.alloc(readFileSync(file).length)),
  removed: (file) => rmSync(file),
};

describe.each(Object.keys(damages))('a chunk of evidence that was %s', (damage) => {
  it.each(['recorded', 'simulated'])('is made again where it is of %s frames', async (kind) => {
    rmSync(cache, { recursive: true, force: true });
    cpSync(whole, cache, { recursive: true });
    const sets = evidence().filter((set) => recorded.includes(set) === (kind === 'recorded'));
    const set = join(cache, 'evidence', sets[0]!);
    damages[damage]!(join(set, readdirSync(set)[0]!));
    expect(await tune(cache)).toEqual({ code: 0, out: said, err: expect.any(String) });
    expect(await tune(cache)).toMatchObject({ code: 0, out: said });
  });
});
