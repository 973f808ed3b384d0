import exifReader from 'exif-reader';
import type { Metadata, Sharp } from 'sharp';
import { formatOfBytes } from './formats.js';
import { jpegComponents, withoutMetadata } from './jpeg.js';
import { MOST_PIXELS, refuseLarge, sizeByHead } from './size.js';

/** A decoded picture: rows from the top, channels interleaved, 8 bits each, as stored (no profile, no turning). */
export interface Pixels {
  pixels: Uint8Array;
  channels: 1 | 3;
  width: number;
  height: number;
}

/**
 * One library that decodes stills. Every method rejects with that library's error when a picture is not whole, and with
 * TooLarge when it would fill the memory.
 */
export interface Decoder {
  name: 'sharp' | 'jimp';
  decode(bytes: Buffer): Promise<Pixels>;
  /** Some rows of a picture, at the price of decoding all rows above them; absent where the library cannot. */
  rows?(bytes: Buffer, from: number, to: number): Promise<Pixels>;
  /** Width and height as stored. */
  size(bytes: Buffer): Promise<{ width: number; height: number }>;
  /**
   * A JPEG file at 1/2, 1/4 or 1/8 of its width and height, reduced while it is decoded; absent where the library
   * cannot. The caller checks what comes back: see reduction.ts.
   */
  reduced?(file: string, by: 2 | 4 | 8): Promise<Pixels>;
}

/** jimp holds a picture several times over. */
const MOST_BY_JIMP = 12_600_000;

let chosen: Promise<Decoder> | undefined;

/**
 * The decoder of this machine: sharp, or jimp where sharp has no build.
 * @param which asks for one of them; sharp then rejects where it is missing
 */
export function decoder(which?: Decoder['name']): Promise<Decoder> {
  if (which === 'jimp') return jimpDecoder();
  if (which === 'sharp') return sharpDecoder();
  chosen ??= sharpDecoder().catch(jimpDecoder);
  return chosen;
}

async function sharpDecoder(): Promise<Decoder> {
  const sharp = (await import('sharp')).default;
  sharp.cache(false);
  // Several pictures are decoded at the same time, one thread each; more threads for one picture would only compete.
  sharp.concurrency(1);
  const options = { failOn: 'error', ignoreIcc: true, limitInputPixels: MOST_PIXELS } as const;
  const pixelsOf = async (image: Sharp, grey: boolean): Promise<Pixels> => {
    const { data, info } = await image
      .removeAlpha()
      .toColourspace(grey ? 'b-w' : 'srgb')
      .raw({ depth: 'uchar' })
      .toBuffer({ resolveWithObject: true });
    return { pixels: data, channels: info.channels === 1 ? 1 : 3, width: info.width, height: info.height };
  };
  const isGrey = (meta: Metadata) => meta.space === 'b-w' || meta.space === 'grey16';
  const opened = async (bytes: Buffer): Promise<{ image: Sharp; grey: boolean }> => {
    refuseLargeByHead(bytes, MOST_PIXELS);
    const image = sharp(bytes, options);
    // Of a JPEG this thread can tell at a glance; asking sharp costs it a seventh more.
    const components = formatOfBytes(bytes) === 'JPEG' ? jpegComponents(bytes) : null;
    return { image, grey: components === null ? isGrey(await image.metadata()) : components === 1 };
  };
  const own: Decoder = {
    name: 'sharp',
    async decode(bytes) {
      if (formatOfBytes(bytes) === 'BMP') return (await jimpDecoder()).decode(bytes);
      const { image, grey } = await opened(bytes);
      return pixelsOf(image, grey);
    },
    async rows(bytes, from, to) {
      const { image, grey } = await opened(bytes);
      const { width } = await image.metadata();
      return pixelsOf(image.extract({ left: 0, top: from, width, height: to - from }), grey);
    },
    async size(bytes) {
      if (formatOfBytes(bytes) === 'BMP') return (await jimpDecoder()).size(bytes);
      const { width, height } = await sharp(bytes, { ...options, limitInputPixels: false }).metadata();
      refuseLarge({ width, height }, MOST_PIXELS);
      return { width, height };
    },
    async reduced(file, by) {
      // libvips takes loader options in brackets after a file name. Asked for by resize(), sharp reduces by half of the
      // factor at most and resamples the rest with a sharpening kernel, slower and farther from an area average.
      // A grey JPEG comes back as three equal channels: asking whether it is grey would cost each picture a tenth more.
      // The limit is held against the reduced size.
      const limitInputPixels = Math.ceil((1.01 * MOST_PIXELS) / by ** 2);
      return pixelsOf(sharp(`${file}[shrink=${by}]`, { ...options, limitInputPixels }), false);
    },
  };
  return own;
}

async function jimpDecoder(): Promise<Decoder> {
  const { Jimp } = await import('jimp');
  const open = async (bytes: Buffer) => {
    refuseLargeByHead(bytes, MOST_BY_JIMP);
    const format = formatOfBytes(bytes);
    if (format === 'TIFF') refuseUnsureTiff(bytes);
    // jimp turns pictures by their EXIF orientation; without metadata it cannot.
    const plain = format === 'JPEG' ? withoutMetadata(bytes) : bytes;
    return (await Jimp.fromBuffer(plain, { 'image/jpeg': { tolerantDecoding: false } })).bitmap;
  };
  return {
    name: 'jimp',
    async decode(bytes) {
      const { data, width, height } = await open(bytes);
      const pixels = new Uint8Array(width * height * 3);
      for (let from = 0, to = 0; to < pixels.length; from += 4) {
        pixels[to++] = data[from]!;
        pixels[to++] = data[from + 1]!;
        pixels[to++] = data[from + 2]!;
      }
      return { pixels, channels: 3, width, height };
    },
    async size(bytes) {
      const { width, height } = sizeByHead(bytes) ?? (await open(bytes));
      refuseLarge({ width, height }, MOST_BY_JIMP);
      return { width, height };
    },
  };
}

function refuseLargeByHead(bytes: Buffer, most: number): void {
  const size = sizeByHead(bytes);
  if (size) refuseLarge(size, most);
}

/** TIFF 6.0 compression numbers: none, LZW, two for Deflate, PackBits. */
const sureCompressions = [1, 5, 8, 32946, 32773];

/** jimp decodes some TIFFs (JPEG inside, above all) to wrong pixels without an error. */
function refuseUnsureTiff(bytes: Buffer): void {
  const compression = exifReader(bytes).Image?.Compression ?? 1;
  if (!sureCompressions.includes(compression)) {
    throw new Error(
      `TIFF compression ${compression} needs the library sharp, which has no build here; save the pictures as JPEG, PNG or uncompressed TIFF`,
    );
  }
}
