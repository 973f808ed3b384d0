import { Problem } from '../base/problem.js';
import { type AddOptions, addRecording } from '../clip/add.js';
import { aboutStart } from '../clip/start.js';
import { joinProject, mayJoinProject } from '../files/join-project.js';
import { openPorts, type Ports } from './ports.js';

export interface AddInput
  extends Pick<AddOptions, 'rate' | 'times' | 'title' | 'site' | 'said' | 'moves' | 'links'> {
  /** A folder of stills, or a video file; it is copied (or linked) and never changed, unless `moves` is given. */
  recording: string;
  /** The clip folder to make; must not exist yet, or be empty. */
  dir: string;
  /** The file of a project (perchmark.json) to put the clip into, which is made where there is none; needs a site. */
  project?: string;
}

export interface AddResult {
  dir: string;
  frames: number;
  seconds: number;
  /** The file of the project that it was put into. */
  project?: string;
}

/**
 * Makes a clip folder from a recording and works out when each frame was taken; it appears whole or not at all.
 * @throws Problem for whatever cannot be read, timed or written
 */
export async function add(
  { recording, dir, project, ...given }: AddInput,
  ports: Ports = {},
): Promise<AddResult> {
  const { site } = given;
  if (project !== undefined && site === undefined) {
    throw new Problem(
      'usage',
      `${project}: expected with the name of the spot that the clip is of; add --site NAME`,
    );
  }
  const joins = project === undefined || site === undefined ? null : { project, site };
  if (joins) await mayJoinProject(joins.project, dir, joins.site);
  const enter = async () => {
    if (!joins) return;
    await joinProject(joins.project, dir, joins.site).catch((error) => {
      if (!(error instanceof Problem)) throw error;
      throw new Problem(error.code, `${dir} was made, but is not in the project yet: ${error.message}`);
    });
  };
  const { cache, onPhase, onProgress, onWarning, signal } = await openPorts(ports);
  onPhase(`${recording}: ${given.links === true ? 'linking' : 'copying'}`);
  const { frames, seconds, start, warnings } = await addRecording(recording, dir, {
    ...given,
    cache,
    onProgress,
    enter,
    ...(signal && { signal }),
  });
  const isSaid = given.said?.start !== undefined;
  for (const warning of [...warnings, ...(isSaid ? [] : [aboutStart(dir, start)])]) onWarning(warning);
  return { dir, frames, seconds, ...(joins && { project: joins.project }) };
}
