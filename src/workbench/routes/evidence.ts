import { Hono } from 'hono';
import { Problem } from '../../base/problem.js';
import { type Camera, keepsEvidence } from '../../camera/description.js';
import { positions, valueAt } from '../../camera/dials.js';
import { drawMask } from '../../camera/mask.js';
import { levelOf } from '../../engine/triggers.js';
import { evidenceOf } from '../../measure/evidence.js';
import type { Bench } from '../bench.js';
import type { EvidenceReady } from '../protocol.js';
import { streamed } from '../streamed.js';

/** The evidence of a clip, for the page to sweep by itself. */
export function evidenceRoutes({ workspace, ports }: Bench): Hono {
  return new Hono()
    .post('/clips/:id/evidence', (c) => {
      const id = c.req.param('id');
      return streamed<EvidenceReady>(ports.cache, async (told) => {
        told.onPhase('reading frames');
        await columnsOf({ workspace, ports: told }, id);
        return { address: `api/clips/${encodeURIComponent(id)}/evidence` };
      });
    })
    .get('/clips/:id/evidence', async (c) => {
      const bytes = await columnsOf({ workspace, ports }, c.req.param('id'));
      return c.body(bytes, 200, { 'Content-Type': 'application/octet-stream' });
    });
}

/** See `EvidenceColumns` of the protocol. */
async function columnsOf({ workspace, ports }: Bench, id: string): Promise<ArrayBuffer> {
  const { camera } = await workspace.camera();
  if (!keepsEvidence(camera)) {
    throw new Problem(
      'bad-settings',
      `${camera.name}: what this camera compares with depends on when it fires, so that the page cannot try settings on it; use 'perchmark replay' and 'perchmark tune'`,
    );
  }
  const clip = await workspace.clip(id, ports);
  const levels = levelsOf(camera);
  const { times, bothColumns } = await evidenceOf(
    clip,
    camera,
    drawMask(clip.labels?.mask, camera),
    levels[0]!,
    ports,
  );
  const both = await bothColumns(levels);
  const head = Math.ceil((2 + levels.length) / 2) * 8;
  const bytes = new ArrayBuffer(head + 8 * times.length + 2 * 4 * levels.length * times.length);
  new Uint32Array(bytes, 0, 2 + levels.length).set([times.length, levels.length, ...levels]);
  new Float64Array(bytes, head, times.length).set(times);
  let at = head + 8 * times.length;
  for (const columns of [both.changed, both.region]) {
    for (const level of levels) {
      new Uint32Array(bytes, at, times.length).set(columns.get(level)!);
      at += 4 * times.length;
    }
  }
  return bytes;
}

/** All levels that the camera's dial reaches, rising. */
function levelsOf(camera: Camera): number[] {
  const dial = Object.values(camera.controls).find(({ sets }) => sets === 'threshold');
  const levels = dial ? positions(dial).map((position) => levelOf(valueAt(dial, position))) : [];
  return [...new Set(levels)].sort((a, b) => a - b);
}
