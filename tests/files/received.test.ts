import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { Received } from '../../src/files/received.js';
import { smallDisk } from '../support/disk.js';

const disk = smallDisk('1m');

async function received(): Promise<{ root: string; files: Received }> {
  const root = mkdtempSync(join(tmpdir(), 'perchmark-received-'));
  onTestFinished(() => rmSync(root, { recursive: true, force: true }));
  return { root, files: await Received.begin(root) };
}
const bytes = (...values: number[]) => Uint8Array.from(values);

describe('files that arrive in pieces', () => {
  it('are whole when the last has come', async () => {
    const { files } = await received();
    await files.append('a.mp4', 0, bytes(1, 2));
    expect(await files.append('a.mp4', 2, bytes(3))).toBe(3);
    expect([...readFileSync(join(files.path, 'a.mp4'))]).toEqual([1, 2, 3]);
  });

  it('take a piece that comes twice, for its answer was lost, once', async () => {
    const { files } = await received();
    await files.append('a.mp4', 0, bytes(1, 2));
    await files.append('a.mp4', 2, bytes(3, 4));
    expect(await files.append('a.mp4', 2, bytes(3, 4))).toBe(4);
    expect([...readFileSync(join(files.path, 'a.mp4'))]).toEqual([1, 2, 3, 4]);
  });

  it('refuse a piece out of turn', async () => {
    const { files } = await received();
    await files.append('a.mp4', 0, bytes(1, 2));
    await expect(files.append('a.mp4', 5, bytes(3))).rejects.toThrow(
      'expected the piece from byte 2 on, found one from 5',
    );
  });

  it.each([
    '../a.jpg',
    'a/b.jpg',
    'a\\b.jpg',
    '..',
    '.hidden.jpg',
    '',
    ' ',
    'a\u0000.jpg',
    `${'n'.repeat(250)}.jpg`,
  ])('refuse %j as a name, and write nothing', async (name) => {
    const { root, files } = await received();
    await expect(files.append(name, 0, bytes(1))).rejects.toThrow('expected a plain name');
    expect(readdirSync(files.path)).toEqual([]);
    expect(readdirSync(root)).toHaveLength(1);
  });

  it('are written one piece after the other where two of one file come at once', async () => {
    const { files } = await received();
    const [long, short] = [new Uint8Array(2 ** 20).fill(1), bytes(2)];
    const ends = await Promise.allSettled([files.append('a.mp4', 0, long), files.append('a.mp4', 0, short)]);
    expect(ends.map(({ status }) => status)).toEqual(['fulfilled', 'rejected']);
    expect(readFileSync(join(files.path, 'a.mp4')).equals(long)).toBe(true);
  });

  it.skipIf(disk.path === null)('hold all of a piece or none of it, where the disk is full', async () => {
    const files = await Received.begin(disk.path!);
    const ballast = join(disk.path!, 'ballast');
    writeFileSync(ballast, new Uint8Array(700 * 1024));
    const start = new Uint8Array(50_000).fill(1);
    const piece = new Uint8Array(500_000).fill(2);
    await files.append('a.mp4', 0, start);
    for (const [name, at] of [
      ['a.mp4', start.length],
      ['b.mp4', 0],
    ] as const) {
      await expect(files.append(name, at, piece)).rejects.toMatchObject({
        code: 'file-unwritable',
        message: `${name}: cannot be written (ENOSPC): there is no space left on that disk; free some`,
      });
    }
    expect([files.names, readdirSync(files.path)]).toEqual([['a.mp4'], ['a.mp4']]);
    rmSync(ballast);
    await files.append('a.mp4', start.length, piece);
    expect(readFileSync(join(files.path, 'a.mp4')).equals(Buffer.concat([start, piece]))).toBe(true);
    await files.end();
  });

  it('leave nothing when they are given up', async () => {
    const { root, files } = await received();
    await files.append('a.mp4', 0, bytes(1));
    await files.end();
    expect(readdirSync(root)).toEqual([]);
  });
});
