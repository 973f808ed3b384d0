import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import sharp from 'sharp';

/** A small photo of one grey, a JPEG, with a time by EXIF where one is given ("2026-05-09 06:00:00"). */
export async function photoOf(grey: number, time: string | null = null): Promise<Buffer> {
  const picture = sharp({
    create: { width: 64, height: 48, channels: 3, background: { r: grey, g: grey, b: grey } },
  });
  const stamped =
    time === null ? picture : picture.withExif({ IFD2: { DateTimeOriginal: time.replaceAll('-', ':') } });
  return stamped.jpeg().toBuffer();
}

/** Writes photos into a folder, by their names in it. */
export async function writePhotos(folder: string, photos: Record<string, string | null>): Promise<void> {
  let grey = 40;
  for (const [name, time] of Object.entries(photos)) {
    mkdirSync(join(folder, dirname(name)), { recursive: true });
    writeFileSync(join(folder, name), await photoOf(grey, time));
    grey = 40 + ((grey + 7) % 180);
  }
}
