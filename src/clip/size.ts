import exifReader from 'exif-reader';
import { formatOfBytes } from './formats.js';
import { jpegSize } from './jpeg.js';

/** The largest picture that is read: what cameras of 50 megapixels give, in memory that a small board has. */
export const MOST_PIXELS = 52_000_000;

/** Width and height of a picture in pixels, by its head alone, as stored; null where the head does not say. */
export function sizeByHead(bytes: Buffer): { width: number; height: number } | null {
  try {
    switch (formatOfBytes(bytes)) {
      case 'JPEG':
        return jpegSize(bytes);
      case 'PNG':
        // IHDR comes first (PNG specification, third edition, 11.2.1).
        return { width: bytes.readUInt32BE(16), height: bytes.readUInt32BE(20) };
      case 'BMP':
        return bmpSize(bytes);
      case 'TIFF': {
        const { ImageWidth: width, ImageLength: height } = exifReader(bytes).Image ?? {};
        return typeof width === 'number' && typeof height === 'number' ? { width, height } : null;
      }
      default:
        return null;
    }
  } catch {
    return null;
  }
}

/** BITMAPCOREHEADER has 16-bit sizes; all later headers 32-bit ones, a negative height for rows from the top. */
function bmpSize(bytes: Buffer): { width: number; height: number } {
  const short = bytes.readUInt32LE(14) === 12;
  return short
    ? { width: bytes.readUInt16LE(18), height: bytes.readUInt16LE(20) }
    : { width: Math.abs(bytes.readInt32LE(18)), height: Math.abs(bytes.readInt32LE(22)) };
}

/**
 * Refuses what would fill the memory, before it is decoded.
 * @param most pixels
 * @throws TooLarge
 */
export function refuseLarge({ width, height }: { width: number; height: number }, most: number): void {
  if (width * height <= most) return;
  throw new TooLarge(
    `${width}x${height} are ${megapixels(width * height)} megapixels; at most ${megapixels(most)} are read: have the camera save smaller ones`,
  );
}

/** A picture that would fill the memory; the message is ready to follow its name. */
export class TooLarge extends Error {
  override readonly name = 'TooLarge';
}

function megapixels(pixels: number): number {
  return Math.round(pixels / 1e5) / 10;
}
