import { Problem } from '../base/problem.js';
import { fit as fitTo } from '../jobs/fit.js';
import type { OpenPorts } from '../jobs/ports.js';
import type { Bench } from './bench.js';
import type { CameraFound, FitAsked } from './fit-protocol.js';
import type { Workspace } from './workspace.js';

const lastOf = new WeakMap<Workspace, CameraFound>();

/** What was found last over an opened folder. */
export function lastFound(workspace: Workspace): CameraFound | null {
  return lastOf.get(workspace) ?? null;
}

/**
 * Finds the camera that fired while a clip was recorded.
 * @param fired a folder of photos, or a file of times
 * @param called what that is called for the owner
 * @throws Problem, the signal's reason
 */
export async function findCamera(
  { workspace, turns }: Pick<Bench, 'workspace' | 'turns'>,
  { clip: id, known, each }: Pick<FitAsked, 'clip' | 'known' | 'each'>,
  fired: string,
  called: string,
  told: OpenPorts,
): Promise<CameraFound> {
  const named = (line: string) =>
    line
      .replaceAll(fired, called)
      .replace(/^--fired: /, '')
      .replace(/^--photos: /, 'photos a trigger: ');
  const warnings: string[] = [];
  const { camera, kept } = await workspace.camera();
  if (known && !kept) {
    throw new Problem('usage', 'nothing is kept of the camera yet; keep it first, or leave it to be found');
  }
  const { dir, ...clip } = await workspace.clip(id, told);
  const result = await turns
    .take('finding the camera', told, () =>
      fitTo(
        {
          clip: { ...clip, dir: id },
          fired,
          ...(known && { camera }),
          ...(each !== undefined && { photos: each }),
        },
        {
          ...told,
          onPhase: (what) => told.onPhase(named(what)),
          onWarning: (line) => warnings.push(named(line)),
        },
      ),
    )
    .catch((error) => {
      throw error instanceof Problem ? new Problem(error.code, named(error.message)) : error;
    });
  const found = { clip: id, known, result, warnings };
  lastOf.set(workspace, found);
  return found;
}
