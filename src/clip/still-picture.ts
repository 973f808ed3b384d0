import { type Decoder, decoder, type Pixels } from './decode.js';
import { formatOfName } from './formats.js';
import { type Cut, cutOf, type Look } from './look.js';
import { decodeAt } from './still-frames.js';
import type { StillsSource } from './stills.js';

/** To be looked at, and nothing measured on it. */
const QUALITY = 85;

/**
 * A still as a JPEG to be looked at. A large one is reduced while it is decoded, whatever that does to its grey levels.
 * @param size of the clip's stills
 * @throws Problem 'bad-picture', 'file-missing', 'file-unreadable'
 */
export async function stillPicture(
  source: StillsSource,
  size: { width: number; height: number },
  index: number,
  look: Look,
  which?: Decoder['name'],
): Promise<Uint8Array> {
  const by = await decoder(which);
  const pixels = await decodeAt(source, index, by, factorFor(source, size, index, look, by));
  return (by.name === 'sharp' ? bySharp : byJimp)(pixels, cutOf(look, pixels));
}

/** The largest reduction that still leaves as many pixels as are shown. */
function factorFor(
  source: StillsSource,
  size: { width: number; height: number },
  index: number,
  look: Look,
  by: Decoder,
): 1 | 2 | 4 | 8 {
  const name = source.names[index]!;
  // Loader options stand in brackets after the file's name: a name with brackets of its own would be misread.
  if (!by.reduced || formatOfName(name) !== 'JPEG' || /[[\]]/.test(source.folder + name)) return 1;
  const { width, toWidth } = cutOf(look, size);
  return ([8, 4, 2] as const).find((factor) => width / factor >= toWidth) ?? 1;
}

async function bySharp({ pixels, channels, width, height }: Pixels, cut: Cut): Promise<Uint8Array> {
  const { default: sharp } = await import('sharp');
  const image = sharp(pixels, { raw: { width, height, channels } })
    .extract({ left: cut.left, top: cut.top, width: cut.width, height: cut.height })
    .resize({ width: cut.toWidth, height: cut.toHeight, fit: 'fill' });
  return (channels === 1 ? image.toColourspace('b-w') : image).jpeg({ quality: QUALITY }).toBuffer();
}

async function byJimp({ pixels, channels, width }: Pixels, cut: Cut): Promise<Uint8Array> {
  const { Jimp } = await import('jimp');
  const image = new Jimp({ width: cut.width, height: cut.height });
  const { data } = image.bitmap;
  for (let y = 0, to = 0; y < cut.height; y++) {
    let from = channels * ((cut.top + y) * width + cut.left);
    for (let x = 0; x < cut.width; x++, from += channels) {
      for (let c = 0; c < 3; c++) data[to++] = pixels[from + (c % channels)]!;
      data[to++] = 255;
    }
  }
  if (cut.toWidth !== cut.width) image.resize({ w: cut.toWidth, h: cut.toHeight });
  return image.getBuffer('image/jpeg', { quality: QUALITY });
}
