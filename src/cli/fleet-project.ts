import { join } from 'node:path';
import { Problem } from '../base/problem.js';
import { isThere } from '../files/regular.js';
import type { Asked, Spot as FleetSpot } from '../fleet/source.js';
import type { OpenPorts } from '../jobs/ports.js';
import { onlyGroup, type Spot, settingsInUse, spotsOf } from './project.js';

/**
 * What a project asks of a fleet, as the verb takes it on one machine.
 * @param asked its source is the file of the project
 * @param site the spot that is meant; undefined: all
 * @throws Problem for anything wrong with the project, and where the verb takes one camera and it has several
 */
export async function askedOf(
  { verb, source, camera, settings }: Omit<Asked, 'project'>,
  site: string | undefined,
  ports: Pick<OpenPorts, 'onWarning'>,
): Promise<NonNullable<Asked['project']>> {
  if (camera !== null || settings !== null) {
    throw new Problem(
      'usage',
      `${source}: expected the cameras and the settings that the project names, found --camera or --settings too; leave them out`,
    );
  }
  const { spots } = await spotsOf(verb, { clips: [source], site }, ports);
  if (verb !== 'tune') settingsInUse(onlyGroup(verb, spots));
  const meant = verb === 'tune' ? await labelledAmong(spots, ports) : spots;
  return { site: site ?? null, spots: meant.map(asFleetHasIt) };
}

function asFleetHasIt({ site, clips, camera, settings }: Spot): FleetSpot {
  return { site, clips, camera, settings };
}

/** Clips that nobody has labelled yet wait, and so do spots with none else, as on one machine; none of them is opened. */
async function labelledAmong(
  spots: readonly Spot[],
  { onWarning }: Pick<OpenPorts, 'onWarning'>,
): Promise<readonly Spot[]> {
  const isLabelled = async (clip: string) => clip.endsWith('.json') || isThere(join(clip, 'labels.json'));
  const kept: Spot[] = [];
  const left: string[] = [];
  for (const spot of spots) {
    const clips: string[] = [];
    for (const clip of spot.clips) ((await isLabelled(clip)) ? clips : left).push(clip);
    if (clips.length > 0) kept.push({ ...spot, clips });
  }
  if (kept.length === 0) return spots;
  for (const clip of left) onWarning(`${clip}: left out, for it has no labels.json yet`);
  return kept;
}
