import type { Clip } from '../clip/open.js';
import { openClips } from '../jobs/open.js';
import type { OpenPorts } from '../jobs/ports.js';

/**
 * Opens clips as those of the site that a project gives them.
 * @param site null: their own
 * @throws Problem for anything wrong with them
 */
export async function openAs(
  clips: readonly string[],
  site: string | null,
  ports: OpenPorts,
): Promise<Clip[]> {
  const opened = await openClips(clips, ports);
  if (site === null) return opened;
  return opened.map((clip) => ({ ...clip, manifest: { ...clip.manifest, site } }));
}
