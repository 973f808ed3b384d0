/** A JPEG's marker segments up to the first scan: each from its 0xFF to the end of its payload (ITU-T T.81, annex B). */
function* segments(bytes: Buffer): Generator<{ marker: number; from: number; to: number }> {
  let at = 2;
  while (at + 4 <= bytes.length && bytes[at] === 0xff) {
    const marker = bytes[at + 1]!;
    if (marker === 0xff) {
      at++;
      continue;
    }
    if (marker === 0xda || marker === 0xd9) return;
    const to = at + 2 + bytes.readUInt16BE(at + 2);
    yield { marker, from: at, to };
    at = to;
  }
}

const app1 = 0xe1;
/** Start of frame: 0xC0 to 0xCF but for tables (DHT), the reserved JPG and arithmetic coding (DAC). */
const notFrames = [0xc4, 0xc8, 0xcc];

/** Where the frame header's marker stands; null where the head does not say. */
function frameHeader(bytes: Buffer): { marker: number; from: number } | null {
  for (const segment of segments(bytes)) {
    const { marker } = segment;
    if (marker >= 0xc0 && marker <= 0xcf && !notFrames.includes(marker)) return segment;
  }
  return null;
}

/** Whether a JPEG is decoded only once all of it is in memory, in coefficients: all coding processes but the sequential ones. */
export function jpegIsProgressive(bytes: Buffer): boolean {
  const marker = frameHeader(bytes)?.marker ?? 0;
  return marker > 0xc1;
}

/** How many components a JPEG has: 1 where it is grey; null where its head does not say. */
export function jpegComponents(bytes: Buffer): number | null {
  const header = frameHeader(bytes);
  return header && (bytes[header.from + 9] ?? null);
}

/** Width and height in pixels; null where the head does not say. */
export function jpegSize(bytes: Buffer): { width: number; height: number } | null {
  const header = frameHeader(bytes);
  if (!header || header.from + 9 > bytes.length) return null;
  return { width: bytes.readUInt16BE(header.from + 7), height: bytes.readUInt16BE(header.from + 5) };
}

const quantisation = 0xdb;
/** Where each coefficient of a row of a quantisation table stands: ITU-T T.81, figure 5, a zigzag from the upper left. */
const zigzag = [
  [0, 1, 5, 6, 14, 15, 27, 28],
  [2, 4, 7, 13, 16, 26, 29, 42],
  [3, 8, 12, 17, 25, 30, 41, 43],
  [9, 11, 18, 24, 31, 40, 44, 53],
  [10, 19, 23, 32, 39, 45, 52, 54],
  [20, 22, 33, 38, 46, 51, 55, 60],
  [21, 34, 37, 47, 50, 56, 59, 61],
  [35, 36, 48, 49, 57, 58, 62, 63],
] as const;

/**
 * Steps that a JPEG's luminance was rounded to, in grey levels of its orthonormal 8x8 cosine transform: rows of rising
 * vertical frequency, columns of rising horizontal. The table of number 0, which luminance has in every JPEG of cameras; null
 * where the head holds none.
 */
export function jpegSteps(bytes: Buffer): number[][] | null {
  for (const { marker, from, to } of segments(bytes)) {
    if (marker !== quantisation) continue;
    for (let at = from + 4; at < Math.min(to, bytes.length); ) {
      const wide = bytes[at]! >> 4 > 0;
      const size = wide ? 128 : 64;
      const first = at + 1;
      if (first + size > bytes.length) return null;
      if ((bytes[at]! & 15) === 0) {
        return zigzag.map((row) =>
          row.map((k) => (wide ? bytes.readUInt16BE(first + 2 * k) : bytes[first + k]!)),
        );
      }
      at = first + size;
    }
  }
  return null;
}

function isExif(bytes: Buffer, from: number): boolean {
  return bytes.toString('latin1', from + 4, from + 10) === 'Exif\0\0';
}

/** The EXIF block of a JPEG, or null; the head of the file is enough when it holds the block. */
export function jpegExif(bytes: Buffer): Buffer | null {
  for (const { marker, from, to } of segments(bytes)) {
    if (marker === app1 && isExif(bytes, from)) return bytes.subarray(from + 10, to);
  }
  return null;
}

/** The same JPEG without its EXIF blocks. */
export function withoutMetadata(bytes: Buffer): Buffer {
  const kept: Buffer[] = [];
  let start = 0;
  for (const { marker, from, to } of segments(bytes)) {
    if (marker !== app1 || !isExif(bytes, from)) continue;
    kept.push(bytes.subarray(start, from));
    start = to;
  }
  return start === 0 ? bytes : Buffer.concat([...kept, bytes.subarray(start)]);
}
