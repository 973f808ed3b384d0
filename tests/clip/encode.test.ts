import sharp from 'sharp';
import { expect, test } from 'vitest';
import { jpegEncoder, pngEncoder } from '../../src/clip/encode.js';
import { scene } from './fixtures.js';

const [width, height] = [64, 48];
const colour = { pixels: Uint8Array.from(scene(width, height)), channels: 3, width, height } as const;
const grey = { ...colour, channels: 1, pixels: colour.pixels.filter((_, i) => i % 3 === 0) } as const;

test.each([
  ['sharp', 'colour', colour, 3],
  ['sharp', 'grey', grey, 1],
  ['jimp', 'colour', colour, 3],
  ['jimp', 'grey', grey, 3],
] as const)('%s writes a %s JPEG that shows the picture', async (which, _, picture, channels) => {
  const bytes = await (await jpegEncoder(which))(picture);
  const { format, channels: found } = await sharp(bytes).metadata();
  expect([format, found]).toEqual(['jpeg', channels]);
  const shown = await sharp(bytes).toColourspace('srgb').raw().toBuffer();
  const per = picture.channels;
  const apart = shown.map((value, i) => Math.abs(value - picture.pixels[per === 3 ? i : Math.floor(i / 3)]!));
  expect(shown).toHaveLength(3 * width * height);
  expect(apart.reduce((sum, d) => sum + d, 0) / shown.length).toBeLessThan(3);
});

test.each([['sharp'], ['jimp']] as const)(
  '%s writes a grey PNG that holds every level as it was',
  async (which) => {
    const noise = { ...grey, pixels: Uint8Array.from(grey.pixels, (_, i) => (i * 2_654_435_761) >>> 24) };
    const bytes = await (await pngEncoder(which))(noise);
    const { format, channels: found } = await sharp(bytes).metadata();
    expect([format, found]).toEqual(['png', 1]);
    const read = await sharp(bytes).toColourspace('b-w').raw().toBuffer();
    expect(Buffer.from(noise.pixels).equals(read)).toBe(true);
  },
);
