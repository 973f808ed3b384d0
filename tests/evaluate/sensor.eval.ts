import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import seedrandom from 'seedrandom';
import sharp from 'sharp';
import { afterAll, expect, it } from 'vitest';
import { openClip } from '../../src/clip/open.js';
import { noiseOf } from '../../src/measure/weather/noise.js';
import { Cache } from '../../src/store/cache.js';
import { drawStillLife } from '../weather/still-life.js';

/** Drawn clips that nothing was chosen on, of gains and read noises that nobody looked at before. */
const CLIPS = Number(process.env.SENSOR_CLIPS ?? 24);
const FAMILY = process.env.SENSOR_FAMILY ?? 'judge-sensor-2';
const size = { width: 320, height: 240 };
const at = { width: 160, height: 120 };
const QUALITIES = [98, 92, 80, 60];

const folder = mkdtempSync(join(tmpdir(), 'sensor-'));
afterAll(() => rmSync(folder, { recursive: true }));

it(
  'gains of sensors by photon transfer, from lossless stills and from JPEGs',
  async () => {
    const cache = new Cache(join(folder, 'cache'));
    const rows = new Map<string, { off: number[]; held: number; not: Map<string, number> }>();
    for (let i = 0; i < CLIPS; i++) {
      const random = seedrandom(`${FAMILY}-${i}`);
      const gain = 0.03 * 40 ** random();
      const readNoise = 1 + 11 * random();
      const drawing = { ...size, gain, readNoise, seed: `${FAMILY}-${i}`, moving: true, colour: true };
      const film = { ...drawing, flicker: 0.02 * random(), brightest: 0.4 + 0.8 * random() };
      const frames = drawStillLife(film, 16);
      for (const quality of [null, ...QUALITIES]) {
        const name = quality === null ? 'PNG' : `JPEG ${quality}`;
        const dir = join(folder, `${i}-${name}`);
        mkdirSync(dir);
        const end = quality === null ? 'png' : 'jpg';
        for (const [k, rgb] of frames.entries()) {
          const picture = sharp(rgb, { raw: { ...size, channels: 3 } });
          await (quality === null ? picture.png({ compressionLevel: 1 }) : picture.jpeg({ quality })).toFile(
            join(dir, `${k}.${end}`),
          );
        }
        writeFileSync(join(dir, 'clip.json'), JSON.stringify({ version: 1, frames: `*.${end}`, rate: 5 }));
        const transfer = await noiseOf(await openClip(dir, { cache }), at);
        const row = rows.get(name) ?? { off: [], held: 0, not: new Map<string, number>() };
        rows.set(name, row);
        if (transfer.kind === 'measured') {
          const share = (0.299 ** 2 + 0.587 ** 2 + 0.114 ** 2) / 4;
          const drawn = (gain * share) / 255;
          row.off.push(transfer.line.slope / drawn);
          if (transfer.range.slope[0] <= drawn && drawn <= transfer.range.slope[1]) row.held++;
        } else {
          const why = transfer.why.replace(/[\d.]+/g, 'N').replace(/ \(it is.*| \(grey.*/, '');
          row.not.set(why, (row.not.get(why) ?? 0) + 1);
        }
        rmSync(dir, { recursive: true });
      }
    }
    for (const [name, { off, held, not }] of rows) {
      const rising = off.toSorted((a, b) => a - b);
      const part = (p: number) => rising[Math.round(p * (rising.length - 1))]?.toFixed(3) ?? '-';
      const near = off.filter((x) => Math.abs(x - 1) < 0.1).length;
      process.stdout.write(
        `${name}: measured ${off.length} of ${CLIPS}, within 10 % ${near}, inside its interval ${held}; measured / true: least ${part(0)}, quartiles ${part(0.25)} ${part(0.5)} ${part(0.75)}, most ${part(1)}\n`,
      );
      for (const [why, count] of not) process.stdout.write(`    ${count} x ${why}\n`);
    }
    const lossless = rows.get('PNG')!;
    expect(lossless.off.filter((x) => Math.abs(x - 1) < 0.1).length).toBeGreaterThanOrEqual(0.9 * CLIPS);
  },
  30 * 60_000,
);
