import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { Jimp } from 'jimp';
import sharp from 'sharp';
import { expect, test, vi } from 'vitest';
import { type Decoder, decoder, type Pixels } from '../../src/clip/decode.js';
import { meanDifference } from '../../src/clip/reduction.js';
import { encode, meanLumaDifference, scene, tempDir } from './fixtures.js';

const [width, height] = [96, 64];
const picture = encode(scene(width, height), width, height);
const both = () => Promise.all([decoder('sharp'), decoder('jimp')]);

test.each([
  ['JPEG', () => picture.clone().jpeg({ quality: 88 }).toBuffer()],
  ['PNG', () => picture.clone().png().toBuffer()],
  ['TIFF', () => picture.clone().tiff({ compression: 'lzw' }).toBuffer()],
])('sharp and jimp agree on a %s within one grey level on average', async (_, make) => {
  const bytes = await make();
  const [one, two] = await Promise.all((await both()).map((d) => d.decode(bytes)));
  expect(one).toMatchObject({ width, height });
  expect(two).toMatchObject({ width, height });
  expect(meanLumaDifference(one!, two!)).toBeLessThanOrEqual(1);
});

test('a BMP, which sharp cannot read, keeps its pixels', async () => {
  const png = await picture.clone().png().toBuffer();
  const bmp = await (await Jimp.fromBuffer(png)).getBuffer('image/bmp');
  const decoded = await (await decoder('sharp')).decode(bmp);
  expect(Buffer.from(decoded.pixels).equals(scene(width, height))).toBe(true);
});

test('EXIF orientation turns nothing, by either decoder', async () => {
  const bytes = await picture.clone().jpeg().withMetadata({ orientation: 6 }).toBuffer();
  for (const one of await both()) expect(await one.decode(bytes)).toMatchObject({ width, height });
});

test('grey stays one channel, and alpha is dropped, not blended', async () => {
  const by = await decoder('sharp');
  const grey = Buffer.from(Array.from({ length: 256 }, (_, i) => i));
  const greyPng = sharp(grey, { raw: { width: 16, height: 16, channels: 1 } }).toColourspace('b-w');
  const decoded = await by.decode(await greyPng.png().toBuffer());
  expect(decoded.channels).toBe(1);
  expect(Buffer.from(decoded.pixels).equals(grey)).toBe(true);
  const faint = await picture.clone().ensureAlpha(0.3).png().toBuffer();
  expect(Buffer.from((await by.decode(faint)).pixels).equals(scene(width, height))).toBe(true);
});

test('16 bits are brought to 8', async () => {
  const deep = Uint16Array.from({ length: 256 }, (_, i) => i * 257);
  const png = sharp(deep, { raw: { width: 16, height: 16, channels: 1 } }).toColourspace('grey16');
  const decoded = await (await decoder('sharp')).decode(await png.png().toBuffer());
  expect([...decoded.pixels]).toEqual(Array.from({ length: 256 }, (_, i) => i));
});

test('a colour profile changes no stored value', async () => {
  const wide = await picture.clone().withIccProfile('p3').png().toBuffer();
  const bare = await sharp(wide, { ignoreIcc: true }).raw().toBuffer();
  const decoded = await (await decoder('sharp')).decode(wide);
  expect(Buffer.from(decoded.pixels).equals(bare)).toBe(true);
});

test.each([
  ['JPEG', () => picture.clone().jpeg().toBuffer()],
  ['PNG', () => picture.clone().png().toBuffer()],
])('a %s cut in half is refused by both decoders, not filled with grey', async (_, make) => {
  const bytes = await make();
  const half = bytes.subarray(0, bytes.length / 2);
  for (const one of await both()) await expect(one.decode(half)).rejects.toThrow();
});

test('jimp refuses the TIFFs it would decode to wrong pixels', async () => {
  const bytes = await picture.clone().tiff({ compression: 'jpeg' }).toBuffer();
  await expect((await decoder('jimp')).decode(bytes)).rejects.toThrow(
    /TIFF compression 7 needs the library sharp/,
  );
});

test.each([2, 4, 8] as const)(
  'a JPEG reduced by %i while decoding: exact size, no second resampling',
  async (by) => {
    const file = join(await tempDir(), 'still.jpg');
    // Noise tells: an area average of s x s pixels has 1/s of it, a sharpening kernel keeps more, subsampling keeps all.
    const [w, h] = [320, 240];
    await writeFile(
      file,
      await encode(scene(w, h, 'noisy', 40), w, h)
        .jpeg({ quality: 95 })
        .toBuffer(),
    );
    const sharpOne = await decoder('sharp');
    const full = await sharpOne.decode(await readFile(file));
    const reduced = await (sharpOne as Required<Decoder>).reduced(file, by);
    expect(reduced).toMatchObject({ width: w / by, height: h / by });
    expect(meanDifference(full, reduced, reduced)).toBeLessThanOrEqual(1);
  },
);

test('the difference of a reduced picture is that at the size at which it is looked at', () => {
  const full: Pixels = { pixels: Uint8Array.of(10, 20, 30, 40), channels: 1, width: 2, height: 2 };
  const reduced: Pixels = { pixels: Uint8Array.of(28), channels: 1, width: 1, height: 1 };
  expect(meanDifference(full, reduced, { width: 1, height: 1 })).toBe(3);
});

test('where sharp cannot be loaded, jimp decodes', async () => {
  vi.resetModules();
  vi.doMock('sharp', () => {
    throw new Error('no build for this machine');
  });
  try {
    const fresh = await import('../../src/clip/decode.js');
    expect((await fresh.decoder()).name).toBe('jimp');
  } finally {
    vi.doUnmock('sharp');
    // What has chosen jimp must not serve other tests.
    vi.resetModules();
  }
});
