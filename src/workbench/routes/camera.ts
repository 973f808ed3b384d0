import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { Hono } from 'hono';
import { parseJson } from '../../base/json.js';
import { Problem } from '../../base/problem.js';
import { type Camera, cameraSchema } from '../../camera/description.js';
import { checkDials } from '../../camera/dials.js';
import { checkMemory } from '../../camera/memory.js';
import { replaceOwn } from '../../files/output.js';
import { readRegular } from '../../files/regular.js';
import type { Bench } from '../bench.js';
import { CAMERA, type Workspace } from '../workspace.js';

/** GET api/camera, and the answer to PUT there; 409 with it where the file is not what `base` names. */
export interface CameraState {
  camera: Camera;
  /** Names what is in camera.json; '' where there is none, and the default camera stands in. */
  revision: string;
}

/** PUT api/camera */
export interface CameraWrite {
  camera: unknown;
  base: string;
}

/** camera.json of the opened folder. */
export function cameraRoutes({ workspace }: Bench): Hono {
  return new Hono()
    .get('/camera', async (c) => c.json(await stateOf(workspace)))
    .put('/camera', async (c) => {
      const body = (await c.req.json().catch(() => null)) as Partial<CameraWrite> | null;
      if (typeof body?.base !== 'string' || body.camera === undefined) {
        throw new Problem('bad-field', 'camera: expected a camera and the revision that it stands on');
      }
      const text = `${JSON.stringify(body.camera, null, 2)}\n`;
      const camera = parseJson(text, CAMERA, cameraSchema, 'a camera description');
      checkMemory(camera, CAMERA);
      checkDials(camera.controls, camera.analysis.width * camera.analysis.height, CAMERA);
      const there = await stateOf(workspace);
      if (there.revision !== body.base) return c.json(there, 409);
      const file = join(workspace.root, CAMERA);
      await workspace.refuseLinkedOut(file);
      await replaceOwn(file, text);
      return c.json(await stateOf(workspace));
    });
}

async function stateOf(workspace: Workspace): Promise<CameraState> {
  const { camera, kept } = await workspace.camera();
  if (!kept) return { camera, revision: '' };
  const bytes = await readRegular(join(workspace.root, CAMERA), 'a camera description');
  return { camera, revision: createHash('sha256').update(bytes).digest('hex') };
}
