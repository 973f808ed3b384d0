import type { Decoder, Pixels } from './decode.js';

/** Turns a picture into the bytes of a JPEG file; its pixels are to be left alone until then. */
export type JpegEncoder = (picture: Pixels) => Promise<Uint8Array>;

/** High enough that what compression adds to the sensor noise, or takes from it, is little. */
const QUALITY = 92;

/**
 * The encoder of this machine: sharp, or jimp, which writes grey as three equal channels, where sharp has no build.
 * @param which asks for one of them; sharp then rejects where it is missing
 */
export function jpegEncoder(which?: Decoder['name']): Promise<JpegEncoder> {
  if (which === 'jimp') return jimpEncoder();
  if (which === 'sharp') return sharpEncoder();
  return sharpEncoder().catch(jimpEncoder);
}

async function sharpEncoder(): Promise<JpegEncoder> {
  const { default: sharp } = await import('sharp');
  return ({ pixels, channels, width, height }) => {
    const image = sharp(pixels, { raw: { width, height, channels } });
    return (channels === 1 ? image.toColourspace('b-w') : image).jpeg({ quality: QUALITY }).toBuffer();
  };
}

async function jimpEncoder(): Promise<JpegEncoder> {
  const { Jimp } = await import('jimp');
  return async ({ pixels, channels, width, height }) => {
    const image = new Jimp({ width, height });
    const { data } = image.bitmap;
    for (let i = 0; i < width * height; i++) {
      for (let c = 0; c < 3; c++) data[4 * i + c] = pixels[channels * i + (c % channels)]!;
      data[4 * i + 3] = 255;
    }
    return image.getBuffer('image/jpeg', { quality: QUALITY });
  };
}
