import { join } from 'node:path';
import { Problem } from '../base/problem.js';
import { isThere } from '../files/regular.js';
import type { Asked, Spot as FleetSpot } from '../fleet/source.js';
import type { OpenPorts } from '../jobs/ports.js';
import { onlyGroup, type Spot, settingsInUse, spotsOf } from './project.js';
import { labelledOnes } from './tune-spots.js';

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

/** As on one machine, but no clip is opened: a scene says itself what is in it. */
async function labelledAmong(
  spots: readonly Spot[],
  ports: Pick<OpenPorts, 'onWarning'>,
): Promise<readonly Spot[]> {
  const seen = async (dir: string) => {
    const isLabelled = dir.endsWith('.json') || (await isThere(join(dir, 'labels.json')));
    return { dir, labels: isLabelled ? dir : null };
  };
  const clips = await Promise.all(spots.map((spot) => Promise.all(spot.clips.map(seen))));
  return labelledOnes(spots, clips, ports).map(({ opened, ...spot }) => {
    return { ...spot, clips: opened.map(({ dir }) => dir) };
  });
}
