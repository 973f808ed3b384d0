import { resolve } from 'node:path';
import { readRegular } from '../files/regular.js';
import type { Cache } from '../store/cache.js';
import { keyOf } from '../store/key.js';
import { readSealed, writeSealed } from '../store/sealed.js';
import { decoder } from './decode.js';
import type { FoundPhoto } from './photo-folder.js';
import { MOST_PIXELS, refuseLarge, sizeByHead } from './size.js';

/** To be looked at: higher takes more room than it shows. */
const QUALITY = 55;
/** No photo of a camera is larger; bytes. */
const MOST_BYTES = 256 * 2 ** 20;

/** A small JPEG of a photo, and its size in pixels. */
export interface Thumbnail {
  jpeg: Buffer;
  width: number;
  height: number;
}

/** Pixels that a thumbnail is wide and high at most, where so many are shown on one page: a page must fit into a phone. */
export function thumbnailSide(photos: number): number {
  if (photos <= 500) return 440;
  return photos <= 1500 ? 340 : 260;
}

/**
 * A thumbnail, upright as the camera was held, from what is kept of an earlier run where file and time of change are the
 * same; null for a photo that is damaged.
 * @param side pixels that it is wide and high at most
 */
export async function thumbnailOf(photo: FoundPhoto, side: number, cache: Cache): Promise<Thumbnail | null> {
  const entry = entryOf(photo, side);
  const kept = await readSealed(cache, entry);
  const jpeg = kept ?? (await drawn(photo.file, side).catch(() => null));
  const size = jpeg && sizeByHead(jpeg);
  if (!jpeg || !size) return null;
  if (!kept) await writeSealed(cache, entry, jpeg);
  return { jpeg, ...size };
}

/** Forgets what is kept of a photo, of whichever size. */
export async function forgetThumbnail(photo: FoundPhoto, cache: Cache): Promise<void> {
  await cache.remove(folderOf(photo));
}

function folderOf({ file, bytes, changed }: FoundPhoto): string[] {
  return ['thumbnails', keyOf(resolve(file), bytes, changed)];
}

function entryOf(photo: FoundPhoto, side: number): string[] {
  return [...folderOf(photo), `${side}-${QUALITY}`];
}

async function drawn(file: string, side: number): Promise<Buffer> {
  const bytes = await readRegular(file, 'a photo', MOST_BYTES);
  const size = sizeByHead(bytes);
  if (size) refuseLarge(size, MOST_PIXELS);
  return (await decoder()).name === 'sharp' ? bySharp(bytes, side) : byJimp(bytes, side);
}

async function bySharp(bytes: Buffer, side: number): Promise<Buffer> {
  const { default: sharp } = await import('sharp');
  return sharp(bytes, { failOn: 'error', limitInputPixels: MOST_PIXELS })
    .rotate()
    .resize({ width: side, height: side, fit: 'inside', withoutEnlargement: true })
    .flatten({ background: '#ffffff' })
    .jpeg({ quality: QUALITY })
    .toBuffer();
}

async function byJimp(bytes: Buffer, side: number): Promise<Buffer> {
  const { Jimp } = await import('jimp');
  const image = await Jimp.fromBuffer(bytes);
  if (Math.max(image.width, image.height) > side) image.scaleToFit({ w: side, h: side });
  return image.getBuffer('image/jpeg', { quality: QUALITY });
}
