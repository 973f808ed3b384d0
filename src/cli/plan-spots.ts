import type { Camera } from '../camera/description.js';
import { type PlanInput, type PlanResult, plan, type SitePlan } from '../jobs/plan.js';
import type { OpenPorts } from '../jobs/ports.js';
import { alikeSpots } from './project.js';
import { type OpenSpot, sayingOnce } from './tune-spots.js';

export interface SpotsPlanned {
  result: PlanResult;
  cameraOf: (site: SitePlan) => Camera;
}

/** Plans the spots, those of one camera and the same settings in use at once; sites come in the order of the spots. */
export async function planSpots(
  spots: readonly OpenSpot[],
  input: Omit<PlanInput, 'clips' | 'camera' | 'inUse'>,
  ports: OpenPorts,
): Promise<SpotsPlanned> {
  const groups = alikeSpots(spots);
  const told = sayingOnce(ports);
  const cameras = new Map<SitePlan, Camera>();
  const results: PlanResult[] = [];
  for (const group of groups) {
    const { camera, settings } = group[0]!;
    const clips = group.flatMap(({ opened }) => opened);
    const result = await plan({ ...input, clips, camera, inUse: settings ?? undefined }, told);
    for (const site of result.sites) cameras.set(site, camera);
    results.push(result);
  }
  const place = ({ site }: SitePlan) => spots.findIndex((spot) => spot.site === site);
  const sites = results.flatMap((result) => result.sites);
  // Clips that are named by hand are one spot, whose sites come as they do.
  if (groups.length > 1) sites.sort((a, b) => place(a) - place(b));
  return { result: { ...results[0]!, sites }, cameraOf: (site) => cameras.get(site)! };
}
