import { Problem } from '../../base/problem.js';
import type { Clip } from '../../clip/open.js';
import { type ClipGiven, openClips } from '../open.js';
import type { OpenPorts } from '../ports.js';

/**
 * A clip to measure a camera's noise on.
 * @throws Problem 'usage' where it is simulated, and what opening it throws
 */
export async function openNoiseClip(from: ClipGiven, ports: OpenPorts): Promise<Clip> {
  const [clip] = (await openClips([from], ports)) as [Clip];
  if (!clip.manifest.simulated) return clip;
  throw new Problem(
    'usage',
    `${clip.dir}: this clip is itself simulated (clip.json: simulated), so its noise is none of a sensor; give a recording with --noise-from`,
  );
}
