import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { Hono } from 'hono';
import { z } from 'zod';
import { parseJson } from '../../base/json.js';
import { defaultCamera } from '../../camera/default.js';
import type { Camera } from '../../camera/description.js';
import { exchange } from '../../files/exchange.js';
import { CAMERA } from '../../files/project.js';
import { cameraIn, readCamera } from '../../files/read-camera.js';
import { readText } from '../../files/read-json.js';
import { isThere } from '../../files/regular.js';
import { shippedCameras, shippedFile } from '../../files/shipped-cameras.js';
import { whatShippedDo } from '../../words/camera-wording.js';
import type { Bench } from '../bench.js';
import type { Workspace } from '../workspace.js';

/** GET api/camera, and the answer to PUT there; 409 with it where the file is not what `base` names. */
export interface CameraState {
  camera: Camera;
  /** Names what is in camera.json; '' where there is none, and the default camera stands in. */
  revision: string;
}

/** GET api/cameras: those to begin from, the one that stands in where nothing is known first. */
export interface CameraOffered {
  /** Names it among them. */
  name: string;
  /** A sentence or two. */
  does: string;
  camera: Camera;
}

const writeSchema = z.strictObject({
  // Held against what a camera is as it will stand in its file.
  camera: z.record(z.string(), z.unknown()),
  base: z.string().describe('the revision that it stands on'),
});

/** camera.json of the opened folder, and what it may begin from. */
export function cameraRoutes({ workspace }: Bench): Hono {
  return new Hono()
    .get('/cameras', async (c) => c.json(await offered()))
    .get('/camera', async (c) => c.json(await stateOf(workspace)))
    .put('/camera', async (c) => {
      const sent = await c.req.text();
      const body = parseJson(sent, 'what is sent', writeSchema, 'a camera and its revision');
      const text = `${JSON.stringify(body.camera, null, 2)}\n`;
      const given: CameraState = { camera: cameraIn(text, CAMERA), revision: digest(text) };
      const file = join(workspace.root, CAMERA);
      await workspace.refuseLinkedOut(file);
      let there: CameraState | undefined;
      const written = await exchange(file, async () => {
        there = await stateOf(workspace);
        return there.revision === body.base ? text : null;
      });
      return written ? c.json(given) : c.json(there, 409);
    });
}

async function offered(): Promise<CameraOffered[]> {
  const shipped = shippedCameras.map(async (name) => ({
    name,
    does: whatShippedDo[name],
    camera: await readCamera(shippedFile(name)),
  }));
  const usual = { name: 'default', does: USUAL, camera: defaultCamera };
  return [usual, ...(await Promise.all(shipped))];
}

const USUAL = 'A small board with the usual dials: sees what moves, and takes two photos.';

async function stateOf(workspace: Workspace): Promise<CameraState> {
  const file = join(workspace.root, CAMERA);
  if (!(await isThere(file))) return { camera: defaultCamera, revision: '' };
  await workspace.refuseLinkedOut(file);
  const text = await readText(file, 'a camera description');
  return { camera: cameraIn(text, file), revision: digest(text) };
}

function digest(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}
