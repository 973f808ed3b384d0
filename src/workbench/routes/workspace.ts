import { Hono } from 'hono';
import { Problem } from '../../base/problem.js';
import { defaultCamera } from '../../camera/default.js';
import { version } from '../../files/version.js';
import type { Bench } from '../bench.js';
import type { WorkspaceInfo } from '../protocol.js';

/** What is in the opened folder. */
export function workspaceRoutes({ workspace }: Bench): Hono {
  return new Hono().get('/workspace', async (c) => {
    const problems: string[] = [];
    const { camera, kept } = await workspace.camera().catch((error) => {
      if (!(error instanceof Problem)) throw error;
      problems.push(error.message);
      return { camera: defaultCamera, kept: false };
    });
    const found = await workspace.settings();
    problems.push(...found.problems);
    const info: WorkspaceInfo = {
      folder: workspace.named,
      version: version(),
      clips: await workspace.list(),
      camera,
      cameraKept: kept,
      settings: found.settings,
      problems,
    };
    return c.json(info);
  });
}
