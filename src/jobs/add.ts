import { type AddOptions, addRecording } from '../clip/add.js';
import { openPorts, type Ports } from './ports.js';

export interface AddInput extends Pick<AddOptions, 'rate' | 'times' | 'title' | 'site' | 'moves' | 'links'> {
  /** A folder of stills, or a video file; it is copied (or linked) and never changed, unless `moves` is given. */
  recording: string;
  /** The clip folder to make; must not exist yet, or be empty. */
  dir: string;
}

export interface AddResult {
  dir: string;
  frames: number;
  seconds: number;
}

/**
 * Makes a clip folder from a recording and works out when each frame was taken; it appears whole or not at all.
 * @throws Problem for whatever cannot be read, timed or written
 */
export async function add({ recording, dir, ...given }: AddInput, ports: Ports = {}): Promise<AddResult> {
  const { cache, onPhase, onProgress, onWarning, signal } = await openPorts(ports);
  onPhase(`${recording}: ${given.links === true ? 'linking' : 'copying'}`);
  const { frames, seconds, warnings } = await addRecording(recording, dir, {
    ...given,
    cache,
    onProgress,
    ...(signal && { signal }),
  });
  for (const warning of warnings) onWarning(warning);
  return { dir, frames, seconds };
}
