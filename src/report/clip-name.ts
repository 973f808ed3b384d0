import type { Clip } from '../clip/open.js';

/** What a clip is called in a report; that weather was put onto it is said wherever it is named. */
export function clipName({ dir, manifest }: Pick<Clip, 'dir' | 'manifest'>): string {
  const name = manifest.title ?? dir;
  return manifest.simulated ? `${name} (simulated)` : name;
}
