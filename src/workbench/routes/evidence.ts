import { Hono } from 'hono';
import { parseJson } from '../../base/json.js';
import { Problem } from '../../base/problem.js';
import type { Camera } from '../../camera/description.js';
import { positions, valueAt } from '../../camera/dials.js';
import { keepsEvidence } from '../../camera/keeps-evidence.js';
import { drawMask } from '../../camera/mask.js';
import { refuseOffFrame } from '../../camera/on-frame.js';
import { settingsSchema } from '../../camera/settings.js';
import type { Clip } from '../../clip/open.js';
import type { Polygon } from '../../engine/mask.js';
import { levelOf } from '../../engine/triggers.js';
import { type Evidence, evidenceOf } from '../../measure/evidence.js';
import { jsonKey } from '../../store/key.js';
import type { Bench } from '../bench.js';
import type { EvidenceReady } from '../protocol.js';
import { streamed } from '../streamed.js';

/**
 * Bytes of evidence that are handed to the page at most. An hour at 5 frames a second takes 9.2 MB with 64 levels and 37 MB
 * with all 255; a day at one frame a second 177 MB with all 255. More would press on the memory of a small machine, which
 * holds it twice while it goes from one to the other.
 */
const MOST_BYTES = 192 * 2 ** 20;
/** Levels that are laid out at once. */
const LEVELS_AT_ONCE = 32;
/** Masks that were asked for and may be asked for again. */
const MOST_MASKS = 64;

const askedSchema = settingsSchema.pick({ mask: true });

/** The evidence of a clip, for the page to sweep by itself. */
export function evidenceRoutes({ workspace, ports, turns }: Bench): Hono {
  /** By what stands for them in addresses, the latest last. */
  const masks = new Map<string, readonly Polygon[]>();
  const remember = (mask: readonly Polygon[]): string => {
    const name = jsonKey(mask).slice(0, 16);
    masks.delete(name);
    masks.set(name, mask);
    for (const oldest of masks.keys()) {
      if (masks.size <= MOST_MASKS) break;
      masks.delete(oldest);
    }
    return name;
  };
  return new Hono()
    .post('/clips/:id/evidence', async (c) => {
      const id = c.req.param('id');
      const text = await c.req.text();
      const asked = text === '' ? {} : parseJson(text, 'evidence', askedSchema, 'a mask');
      refuseOffFrame(asked.mask, 'evidence: mask');
      return streamed<EvidenceReady>(ports.cache, async (told) => {
        const { camera } = await workspace.camera();
        await workspace.recording(id, told, 'closely');
        const clip = await workspace.clip(id, told);
        const mask = asked.mask ?? clip.labels?.mask ?? [];
        refuseMuch(levelsOf(camera).length, clip, camera);
        await turns.take('reading frames', told, () => {
          told.onPhase('reading frames');
          return readUnder(clip, camera, mask, told);
        });
        return { address: `api/clips/${encodeURIComponent(id)}/evidence?mask=${remember(mask)}` };
      });
    })
    .get('/clips/:id/evidence', async (c) => {
      const { signal } = c.req.raw;
      const { camera } = await workspace.camera();
      const clip = await workspace.clip(c.req.param('id'), ports);
      const named = c.req.query('mask');
      const mask = named === undefined ? (clip.labels?.mask ?? []) : masks.get(named);
      if (!mask) {
        throw new Problem('usage', 'this mask is not known any more; ask for the evidence under it again');
      }
      const levels = levelsOf(camera);
      refuseMuch(levels.length, clip, camera);
      const quiet = { cache: ports.cache, signal };
      const evidence = await turns.take('reading frames', { ...ports, signal }, () =>
        readUnder(clip, camera, mask, quiet),
      );
      const bytes = await packed(evidence, levels);
      return c.body(bytes, 200, { 'Content-Type': 'application/octet-stream' });
    });
}

/** The evidence at all levels that the camera's dial reaches. */
export function readUnder(
  clip: Clip,
  camera: Camera,
  mask: readonly Polygon[],
  options: Parameters<typeof evidenceOf>[4],
): Promise<Evidence> {
  return evidenceOf(clip, camera, drawMask(mask, camera), levelsOf(camera)[0]!, options);
}

/** See `EvidenceColumns` of the protocol. */
async function packed(evidence: Evidence, levels: readonly number[]): Promise<ArrayBuffer> {
  const { times } = evidence;
  const head = headOf(levels.length);
  const bytes = new ArrayBuffer(head + bytesOf(levels.length, times.length));
  new Uint32Array(bytes, 0, 2 + levels.length).set([times.length, levels.length, ...levels]);
  new Float64Array(bytes, head, times.length).set(times);
  const column = (place: number) =>
    new Uint32Array(bytes, head + (8 + 4 * place) * times.length, times.length);
  for (let from = 0; from < levels.length; from += LEVELS_AT_ONCE) {
    const some = levels.slice(from, from + LEVELS_AT_ONCE);
    const { changed, region } = await evidence.bothColumns(some);
    for (const [i, level] of some.entries()) {
      column(from + i).set(changed.get(level)!);
      column(levels.length + from + i).set(region.get(level)!);
    }
  }
  return bytes;
}

function headOf(levels: number): number {
  return Math.ceil((2 + levels) / 2) * 8;
}

function bytesOf(levels: number, frames: number): number {
  return (8 + 2 * 4 * levels) * frames;
}

function refuseMuch(levels: number, clip: Clip, camera: Camera): void {
  const frames = Math.min(clip.times.length, Math.ceil(clip.seconds * camera.analysis.rate) + 1);
  const bytes = bytesOf(levels, frames);
  if (bytes <= MOST_BYTES) return;
  throw new Problem(
    'usage',
    `${frames} frames at the ${levels} levels of this camera's dial take ${Math.round(bytes / 2 ** 20)} MB, and the page holds ${MOST_BYTES / 2 ** 20}; cut the clip, or use 'perchmark tune', which holds any length`,
  );
}

/**
 * All levels that the camera's dial reaches, rising.
 * @throws Problem for a camera whose settings the page cannot try
 */
export function levelsOf(camera: Camera): number[] {
  if (!keepsEvidence(camera)) {
    throw new Problem(
      'bad-settings',
      `${camera.name}: what this camera compares with depends on when it fires, so that the page cannot try settings on it; use 'perchmark replay' and 'perchmark tune'`,
    );
  }
  const dial = Object.values(camera.controls).find(({ sets }) => sets === 'threshold');
  if (!dial) {
    throw new Problem(
      'bad-settings',
      `${camera.name}: no dial of it sets the threshold, so that the page has none to try; give it one, or use 'perchmark replay'`,
    );
  }
  return [...new Set(positions(dial).map((position) => levelOf(valueAt(dial, position))))].sort(
    (a, b) => a - b,
  );
}
