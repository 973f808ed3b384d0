import { open, readFile } from 'node:fs/promises';
import exifReader from 'exif-reader';
import { formatOfBytes } from './formats.js';
import { jpegExif } from './jpeg.js';
import type { Stamp } from './stamp.js';

/** A JPEG's EXIF block is at most 64 KiB (one segment) and stands near the file's start. */
const headLength = 256 * 1024;

/** When a still was taken, by its EXIF block. */
export interface ExifMoment {
  /** DateTimeOriginal with SubSecTimeOriginal (Exif 2.3, CIPA DC-008), or null when it has none. */
  stamp: Stamp | null;
  /** The zone of DateTimeOriginal, such as +01:00 (OffsetTimeOriginal, Exif 2.31), or null when it has none. */
  zone: string | null;
}

/** Both in one reading. */
export async function exifMoment(file: string): Promise<ExifMoment> {
  const photo = await photoFields(file);
  return { stamp: stampIn(photo), zone: zoneIn(photo) };
}

/** As in ExifMoment. */
export async function exifStamp(file: string): Promise<Stamp | null> {
  return (await exifMoment(file)).stamp;
}

function stampIn(photo: PhotoFields | undefined): Stamp | null {
  const date = photo?.DateTimeOriginal;
  if (!(date instanceof Date) || Number.isNaN(date.getTime())) return null;
  const seconds = date.getTime() / 1000;
  const digits = /^\d+/.exec(String(photo?.SubSecTimeOriginal ?? '').trim())?.[0];
  return digits === undefined ? { seconds } : { seconds, fraction: Number(`0.${digits}`) };
}

function zoneIn(photo: PhotoFields | undefined): string | null {
  const zone = String(photo?.OffsetTimeOriginal ?? '')
    .replace(/\0/g, '')
    .trim();
  return /^[+-](0\d|1[0-4]):[0-5]\d$/.test(zone) ? zone : null;
}

interface PhotoFields {
  DateTimeOriginal?: unknown;
  SubSecTimeOriginal?: unknown;
  OffsetTimeOriginal?: unknown;
}

async function photoFields(file: string): Promise<PhotoFields | undefined> {
  const head = await readHead(file);
  const format = formatOfBytes(head);
  const block =
    format === 'JPEG'
      ? jpegExif(head)
      : format === 'PNG'
        ? pngExif(await readFile(file))
        : format === 'TIFF'
          ? await readFile(file)
          : null;
  if (!block) return undefined;
  try {
    return exifReader(block).Photo;
  } catch {
    return undefined;
  }
}

/** The eXIf chunk of a PNG (PNG specification, third edition, 11.3.4.5). */
function pngExif(bytes: Buffer): Buffer | null {
  for (let at = 8; at + 12 <= bytes.length; ) {
    const length = bytes.readUInt32BE(at);
    if (bytes.toString('latin1', at + 4, at + 8) === 'eXIf') return bytes.subarray(at + 8, at + 8 + length);
    at += length + 12;
  }
  return null;
}

async function readHead(file: string): Promise<Buffer> {
  const handle = await open(file);
  try {
    const bytes = Buffer.alloc(headLength);
    const { bytesRead } = await handle.read(bytes, 0, headLength, 0);
    return bytes.subarray(0, bytesRead);
  } finally {
    await handle.close();
  }
}
