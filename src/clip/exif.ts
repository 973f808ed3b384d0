import { type FileHandle, open } from 'node:fs/promises';
import exifReader from 'exif-reader';
import { formatOfBytes } from './formats.js';
import { jpegExif } from './jpeg.js';
import { readAt } from './read-at.js';
import type { Stamp } from './stamp.js';
import { tiffExif } from './tiff-exif.js';

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
  const handle = await open(file);
  const block = await exifBlock(handle).finally(() => handle.close());
  if (!block) return undefined;
  try {
    return exifReader(block).Photo;
  } catch {
    return undefined;
  }
}

async function exifBlock(handle: FileHandle): Promise<Buffer | null> {
  const head = await readAt(handle, 0, headLength);
  switch (formatOfBytes(head)) {
    case 'JPEG':
      return jpegExif(head);
    case 'PNG':
      return pngExif(handle);
    case 'TIFF':
      return tiffExif(handle);
    default:
      return null;
  }
}

/** Of a chunk: its length, its type, and the check sum behind it; bytes. */
const CHUNK_HEADER = 8;
const CHUNK_FRAME = 12;

/**
 * The eXIf chunk of a PNG (PNG specification, third edition, 11.3.4.5), which may stand behind all of the picture: the lengths of
 * chunks lead to it, and nothing else is read.
 */
async function pngExif(handle: FileHandle): Promise<Buffer | null> {
  for (let at = 8; ; ) {
    const header = await readAt(handle, at, CHUNK_HEADER);
    if (header.length < CHUNK_HEADER) return null;
    const length = header.readUInt32BE(0);
    const type = header.toString('latin1', 4);
    if (type === 'eXIf') return length > headLength ? null : readAt(handle, at + CHUNK_HEADER, length);
    if (type === 'IEND') return null;
    at += length + CHUNK_FRAME;
  }
}
