import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { cameraSchema } from '../../dist/camera/description.js';
import { openClip } from '../../dist/clip/open.js';
import { readTogether } from '../../dist/measure/evidence.js';
import { Cache } from '../../dist/store/cache.js';

// Reads a clip for some cameras: cameras-child.js CLIP together|apart WIDTHxHEIGHT@RATE...
const [dir, how, ...given] = process.argv.slice(2);
const folder = mkdtempSync(join(tmpdir(), 'perchmark-bench-'));
const cache = new Cache(folder);
const looking = given.map((text) => {
  const [width, height, rate] = text.split(/[x@]/).map(Number);
  const analysis = { width, height, rate, smooth: 1 };
  const camera = cameraSchema.parse({ version: 1, analysis, reference: { kind: 'previous' } });
  return { camera, mask: null, floor: 8 };
});
const clip = await openClip(dir, { cache });
if (how === 'together') await readTogether(clip, looking, { cache });
else for (const one of looking) await readTogether(clip, [one], { cache });
rmSync(folder, { recursive: true });
