import { spawnSync } from 'node:child_process';
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { Jimp } from 'jimp';
import { describe, expect, it, test } from 'vitest';
import { decoder } from '../../src/clip/decode.js';
import { aheadFor, Waste } from '../../src/clip/large.js';
import { openClip } from '../../src/clip/open.js';
import { MOST_PIXELS, sizeByHead, TooLarge } from '../../src/clip/size.js';
import { encode, jpeg, read, scene, stillsClip, tempCache, tempDir, writeFiles } from './fixtures.js';

const picture = encode(scene(45, 31), 45, 31);
const jimpOf = async () => Jimp.fromBuffer(await picture.clone().png().toBuffer());

/** A PNG whose head says that it is so large; there is next to nothing in it. */
async function claiming(width: number, height: number): Promise<Buffer> {
  const png = await picture.clone().png().toBuffer();
  png.writeUInt32BE(width, 16);
  png.writeUInt32BE(height, 20);
  return png;
}

describe('the size of a picture by its head', () => {
  it.each<[string, () => Promise<Buffer>]>([
    ['JPEG', () => picture.clone().jpeg().toBuffer()],
    ['progressive JPEG', () => picture.clone().jpeg({ progressive: true }).toBuffer()],
    ['JPEG with EXIF', () => picture.clone().jpeg().withMetadata({ orientation: 6 }).toBuffer()],
    ['PNG', () => picture.clone().png().toBuffer()],
    ['TIFF', () => picture.clone().tiff().toBuffer()],
    ['BMP', async () => (await jimpOf()).getBuffer('image/bmp')],
  ])('is as it is stored: %s', async (_, make) => {
    expect(sizeByHead(await make())).toEqual({ width: 45, height: 31 });
  });

  it('of a BMP with rows from the top is that of any other', async () => {
    const bmp = await (await jimpOf()).getBuffer('image/bmp');
    bmp.writeInt32LE(-31, 22);
    expect(sizeByHead(bmp)).toEqual({ width: 45, height: 31 });
  });

  it.each(['', 'no picture', '\u00ff\u00d8\u00ff', '\u0089PNG\r\n\u001a\n', 'BM', 'II*\0'])(
    'is not known of %j',
    (text) => {
      expect(sizeByHead(Buffer.from(text, 'latin1'))).toBeNull();
    },
  );
});

describe('a picture that would fill the memory', () => {
  it.each(['sharp', 'jimp'] as const)('is refused before it is decoded, by %s', async (name) => {
    const by = await decoder(name);
    const bytes = await claiming(16_000, 16_000);
    await expect(by.decode(bytes)).rejects.toThrow(TooLarge);
    await expect(by.size(bytes)).rejects.toThrow(
      /16000x16000 are 256 megapixels; at most \d+(\.\d)? are read/,
    );
  });

  it('is refused when a clip is opened, in one line that names it', async () => {
    const dir = await tempDir();
    const about = { version: 1, frames: '*.png', rate: 5 };
    await writeFiles(dir, {
      'clip.json': about,
      '0.png': (await claiming(16_000, 16_000)) as unknown as object,
    });
    await expect(openClip(dir, { cache: await tempCache() })).rejects.toMatchObject({
      code: 'bad-picture',
      message: `${join(dir, '0.png')} (frame 0, counted from 0): 16000x16000 are 256 megapixels; at most 52 are read: have the camera save smaller ones`,
    });
  });

  it('is refused among others too, reduced or not', async () => {
    const dir = await stillsClip(3);
    const file = join(dir, 'frames', '2.jpg');
    const bytes = await readFile(file);
    const header = bytes.indexOf(Buffer.of(0xff, 0xc0));
    bytes.writeUInt16BE(16_000, header + 5);
    bytes.writeUInt16BE(16_000, header + 7);
    await writeFile(file, bytes);
    const clip = await openClip(dir, { cache: await tempCache() });
    for (const [minWidth, minHeight] of [
      [32, 24],
      [8, 6],
    ] as const) {
      await expect(read(clip, [0, 1, 2], { minWidth, minHeight })).rejects.toThrow(
        /2\.jpg \(frame 1, .*16000x16000 are 256 megapixels/,
      );
    }
  });

  const ffmpeg = spawnSync('ffmpeg', ['-version']).status === 0;
  it.skipIf(!ffmpeg)('is refused as a frame of a video', async () => {
    const dir = await tempDir();
    await writeFiles(dir, { 'clip.json': { version: 1, frames: 'v.mkv', rate: 5 } });
    const source = ['-f', 'lavfi', '-i', 'color=s=8000x8000:r=5', '-frames:v', '1'];
    expect(spawnSync('ffmpeg', ['-v', 'error', ...source, '-c:v', 'mjpeg', join(dir, 'v.mkv')]).status).toBe(
      0,
    );
    await expect(openClip(dir, { cache: await tempCache() })).rejects.toMatchObject({
      code: 'bad-video',
      message: expect.stringMatching(/v\.mkv: 8000x8000 are 64 megapixels; at most 52 are read/),
    });
  });
});

test('fewer pictures are decoded ahead the larger they are, of the largest none', () => {
  const megapixels = [0.3, 5, 12, 24, MOST_PIXELS / 1e6].map((n) => aheadFor(3e6 * n));
  expect(megapixels).toEqual([...megapixels].sort((a, b) => b - a));
  expect([megapixels[0], megapixels.at(-1)]).toEqual([6, 0]);
});

test('a picture decoded row by row is the picture', async () => {
  const by = await decoder('sharp');
  for (const bytes of [await jpeg('rows', 64, 48), await picture.clone().png().toBuffer()]) {
    const { pixels, height } = await by.decode(bytes);
    const cut = height >> 1;
    const parts = [await by.rows!(bytes, 0, cut), await by.rows!(bytes, cut, height)];
    expect(Buffer.concat(parts.map((part) => part.pixels)).equals(Buffer.from(pixels))).toBe(true);
  }
});

test('large pictures read one by one are those that are read together', async () => {
  const dir = await stillsClip(5);
  const clip = await openClip(dir, { cache: await tempCache() });
  const options = { minWidth: 32, minHeight: 24 };
  const all = Array.from(clip.times.keys());
  expect(await read(clip, all, { ...options, inFlight: 0 })).toEqual(await read(clip, all, options));
  expect(await readdir(join(dir, 'frames'))).toHaveLength(5);
});

test('pixels of large pictures are taken from whoever held on to them, those of small ones are not', () => {
  const waste = new Waste();
  const pictures = [1000, 30e6, 30e6].map((length) => ({ pixels: new Uint8Array(length) }));
  for (const one of pictures) waste.add(one);
  expect(pictures.map(({ pixels }) => pixels.length)).toEqual([1000, 0, 0]);
});
