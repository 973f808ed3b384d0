/** Turns RGB pixels (width * height * 3 bytes) into the bytes of a JPEG file. */
export type JpegEncoder = (rgb: Uint8Array, width: number, height: number) => Promise<Uint8Array>;

/** High enough that what compression adds stays well under the sensor noise in a drawn frame. */
const QUALITY = 92;

/** By sharp; by jimp where sharp has no build. */
export async function jpegEncoder(): Promise<JpegEncoder> {
  try {
    const { default: sharp } = await import('sharp');
    return (rgb, width, height) =>
      sharp(rgb, { raw: { width, height, channels: 3 } })
        .jpeg({ quality: QUALITY })
        .toBuffer();
  } catch {
    const { Jimp } = await import('jimp');
    return async (rgb, width, height) => {
      const image = new Jimp({ width, height });
      for (let i = 0; i < width * height; i++) {
        image.bitmap.data.set(rgb.subarray(3 * i, 3 * i + 3), 4 * i);
        image.bitmap.data[4 * i + 3] = 255;
      }
      return image.getBuffer('image/jpeg', { quality: QUALITY });
    };
  }
}
