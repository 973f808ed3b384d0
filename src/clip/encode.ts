import type { Decoder, Pixels } from './decode.js';

/** Turns a picture into the bytes of a picture file; its pixels are to be left alone until then. */
export type Encoder = (picture: Pixels) => Promise<Uint8Array>;

/** High enough that what compression adds to the sensor noise, or takes from it, is little. */
const QUALITY = 92;
/**
 * Of zlib. Level 2 costs two and a half times as much as decoding a still and makes noise a fifth smaller; level 1 one and a
 * half times, and makes smaller what is dark or even (tests/bench/RESULTS.md).
 */
const DEFLATE = 1;

/**
 * The encoder of this machine: sharp, or jimp, which writes grey as three equal channels, where sharp has no build.
 * @param which asks for one of them; sharp then rejects where it is missing
 */
export function jpegEncoder(which?: Decoder['name']): Promise<Encoder> {
  return encoder('jpeg', which);
}

/** The same for PNG, lossless: what is read is what was written. */
export function pngEncoder(which?: Decoder['name']): Promise<Encoder> {
  return encoder('png', which);
}

type Format = 'jpeg' | 'png';

function encoder(format: Format, which?: Decoder['name']): Promise<Encoder> {
  if (which === 'jimp') return jimpEncoder(format);
  if (which === 'sharp') return sharpEncoder(format);
  return sharpEncoder(format).catch(() => jimpEncoder(format));
}

async function sharpEncoder(format: Format): Promise<Encoder> {
  const { default: sharp } = await import('sharp');
  return ({ pixels, channels, width, height }) => {
    const image = sharp(pixels, { raw: { width, height, channels } });
    const stored = channels === 1 ? image.toColourspace('b-w') : image;
    return (
      format === 'jpeg' ? stored.jpeg({ quality: QUALITY }) : stored.png({ compressionLevel: DEFLATE })
    ).toBuffer();
  };
}

async function jimpEncoder(format: Format): Promise<Encoder> {
  const { Jimp } = await import('jimp');
  return async ({ pixels, channels, width, height }) => {
    const image = new Jimp({ width, height });
    const { data } = image.bitmap;
    for (let i = 0; i < width * height; i++) {
      for (let c = 0; c < 3; c++) data[4 * i + c] = pixels[channels * i + (c % channels)]!;
      data[4 * i + 3] = 255;
    }
    return format === 'jpeg'
      ? image.getBuffer('image/jpeg', { quality: QUALITY })
      : image.getBuffer('image/png', { deflateLevel: DEFLATE, colorType: channels === 1 ? 0 : 2 });
  };
}
