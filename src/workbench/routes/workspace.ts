import { Hono } from 'hono';
import { version } from '../../files/version.js';
import type { Bench } from '../bench.js';
import type { WorkspaceInfo } from '../protocol.js';

/** What is in the opened folder. */
export function workspaceRoutes({ workspace }: Bench): Hono {
  return new Hono().get('/workspace', async (c) => {
    const { camera, kept } = await workspace.camera();
    const info: WorkspaceInfo = {
      folder: workspace.named,
      version: version(),
      clips: await workspace.list(),
      camera,
      cameraKept: kept,
      settings: await workspace.settings(),
    };
    return c.json(info);
  });
}
