import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import type { Labels } from '../../src/score/labels.js';
import type { Day, Form, Yard } from './yards/yard.js';

/** What the owner of a yard would write into labels.json; plants outlined only where asked for. */
export function yardLabels({ visits, boxed, foliage }: Yard, outlined: boolean): Labels {
  return {
    version: 1,
    visits: visits.map(({ start, end, name, box }) => ({
      start,
      end,
      type: 'animal',
      name,
      ...(boxed && { box }),
    })),
    ...(outlined && foliage.length > 0 && { foliage }),
  };
}

/** What the owner of a yard would write into clip.json, but for `frames`. */
export function yardManifest(yard: Yard, { wind, rain, light }: Day) {
  const { subject, foliage, tall } = yard.view;
  return {
    version: 1 as const,
    site: yard.seed,
    rate: yard.rate,
    conditions: { wind, rain, light },
    scene: { subject, foliage, height: tall, mount: 'post' as const, cover: false },
  };
}

/**
 * Writes a day in a yard as a clip folder: its frames as the yard's camera writes them, clip.json, labels.json.
 * @param options form of the frames, instead of the yard's own; whether its plants are outlined in labels.json
 */
export async function writeYardClip(
  yard: Yard,
  day: Day,
  dir: string,
  { form = yard.form, outlined = false }: { form?: Form; outlined?: boolean } = {},
): Promise<void> {
  mkdirSync(dir, { recursive: true });
  const frames =
    form.kind === 'h264'
      ? await writeVideo(yard, day, dir, form.crf)
      : await writeStills(yard, day, dir, form);
  const { rate, ...manifest } = yardManifest(yard, day);
  const text = { ...manifest, frames, ...(form.kind !== 'h264' && { rate }) };
  writeFileSync(join(dir, 'clip.json'), JSON.stringify(text));
  writeFileSync(join(dir, 'labels.json'), JSON.stringify(yardLabels(yard, outlined)));
}

async function writeStills(
  yard: Yard,
  day: Day,
  dir: string,
  form: Exclude<Form, { kind: 'h264' }>,
): Promise<string> {
  mkdirSync(join(dir, 'frames'), { recursive: true });
  const end = form.kind === 'png' ? 'png' : 'jpg';
  let k = 0;
  for (const y of yard.draw(day)) {
    writeFileSync(join(dir, 'frames', `${String(k++).padStart(6, '0')}.${end}`), await still(yard, form, y));
  }
  return `frames/*.${end}`;
}

/** One frame as a file. */
export function still({ view }: Yard, form: Exclude<Form, { kind: 'h264' }>, y: Uint8Array): Promise<Buffer> {
  const raw = { width: view.width, height: view.height, channels: 1 as const };
  const picture = sharp(Buffer.from(y), { raw });
  return form.kind === 'png'
    ? picture.png({ compressionLevel: 1 }).toBuffer()
    : picture.jpeg({ quality: form.quality }).toBuffer();
}

async function writeVideo(yard: Yard, day: Day, dir: string, crf: number): Promise<string> {
  const { width, height } = yard.view;
  const input = [
    '-f',
    'rawvideo',
    '-pix_fmt',
    'gray',
    '-s',
    `${width}x${height}`,
    '-r',
    `${yard.rate}`,
    '-i',
    '-',
  ];
  const coded = [
    '-c:v',
    'libx264',
    '-preset',
    'veryfast',
    '-threads',
    '1',
    '-crf',
    `${crf}`,
    '-pix_fmt',
    'yuv420p',
  ];
  const coder = spawn('ffmpeg', ['-v', 'error', '-y', ...input, ...coded, join(dir, 'film.mp4')], {
    stdio: ['pipe', 'ignore', 'inherit'],
  });
  const closed = once(coder, 'close');
  for (const y of yard.draw(day)) {
    if (!coder.stdin.write(Buffer.from(y))) await once(coder.stdin, 'drain');
  }
  coder.stdin.end();
  const [code] = await closed;
  if (code !== 0) throw new Error(`ffmpeg ended with ${code}`);
  return 'film.mp4';
}
