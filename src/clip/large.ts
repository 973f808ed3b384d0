import { open } from 'node:fs/promises';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { formatOfName } from './formats.js';
import { jpegIsProgressive } from './jpeg.js';

/** Bytes of decoded pictures that are alive at the same time. */
const MOST_BYTES = 96 * 2 ** 20;
/** Pictures decoded ahead of the one that is handed over, where memory is no concern. */
const MOST_AHEAD = 6;
/** The frame header stands before it, thumbnails and all. */
const HEAD = 256 * 1024;

/** Pictures that may be decoded ahead; 0: none before the one before it is done with. */
export function aheadFor(bytesEach: number): number {
  return Math.max(0, Math.min(MOST_AHEAD, Math.floor(MOST_BYTES / bytesEach) - 1));
}

/** Bytes that decoding one of some pictures takes, by their stored size and what they are reduced by. */
export async function bytesToDecode(
  files: readonly string[],
  { width, height }: { width: number; height: number },
  factor: number,
): Promise<number> {
  const whole = 3 * width * height;
  if (factor === 1 || aheadFor(whole) === MOST_AHEAD) return whole / factor ** 2;
  for (const file of files) {
    if (formatOfName(file) === 'JPEG' && jpegIsProgressive(await headOf(file))) return whole;
  }
  return whole / factor ** 2;
}

/** The first bytes of a file, in which a picture's tables stand; none where it cannot be opened. */
export async function headOf(file: string): Promise<Buffer> {
  const handle = await open(file).catch(() => null);
  if (!handle) return Buffer.alloc(0);
  try {
    const bytes = Buffer.alloc(HEAD);
    const { bytesRead } = await handle.read(bytes, 0, HEAD, 0);
    return bytes.subarray(0, bytesRead);
  } finally {
    await handle.close();
  }
}

/** Pictures from so many bytes on are thrown away by hand, whenever so many bytes of them have gathered. */
const LARGE = 4 * 2 ** 20;
const MOST_WASTE = 48 * 2 ** 20;

/** Pictures that are done with. */
export class Waste {
  private bytes = 0;

  /** Takes the pixels of a large picture away from it, and frees them sooner or later. */
  add(picture: { pixels: Uint8Array }): void {
    const { length } = picture.pixels;
    if (length < LARGE) return;
    picture.pixels = NONE;
    this.bytes += length;
    if (this.bytes < MOST_WASTE) return;
    this.bytes = 0;
    collect();
  }
}

const NONE = new Uint8Array(0);

let collector: (() => void) | undefined;

/**
 * Frees the pixels of pictures that are done with. Left to itself the engine keeps several, for it does not see how much
 * memory lies behind each.
 */
export function collect(): void {
  if (!collector) {
    setFlagsFromString('--expose-gc');
    collector = runInNewContext('gc') as () => void;
  }
  collector();
}
