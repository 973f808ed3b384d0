import { defaultCamera } from '../camera/default.js';
import type { Camera } from '../camera/description.js';
import type { Clip } from '../clip/open.js';
import { readCamera } from '../files/read-camera.js';
import { warn } from './terminal.js';

/** The camera named on the command line, or the one that ships. */
export async function cameraNamed(file: string | undefined): Promise<Camera> {
  return file === undefined ? defaultCamera : readCamera(file);
}

/** Says where a clip gives the camera less than it would see by itself. */
export function noteSlowClips(clips: readonly Clip[], camera: Camera): void {
  for (const clip of clips) {
    if (clip.rate < camera.analysis.rate * (1 - 1e-9)) {
      warn(
        `${clip.dir}: recorded at ${Number(clip.rate.toPrecision(3))} frames a second, ${camera.name} looks at ${camera.analysis.rate}: what happens between frames is not seen, and persistence lasts longer here than on the camera`,
      );
    }
  }
}
