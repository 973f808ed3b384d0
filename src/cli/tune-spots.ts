import { Problem } from '../base/problem.js';
import type { Camera } from '../camera/description.js';
import type { Clip } from '../clip/open.js';
import type { OpenPorts } from '../jobs/ports.js';
import type { CameraNamed } from '../jobs/tune/camera-names.js';
import { compareCameras } from '../jobs/tune/cameras.js';
import { readForAll } from '../jobs/tune/read-for-all.js';
import { type SiteResult, type TuneInput, type TuneResult, tune } from '../jobs/tune.js';
import { worstOf } from '../tune/tells.js';
import { alikeSpots, type Spot } from './project.js';

/** A spot with its clips opened. */
export type OpenSpot = Spot & { opened: Clip[] };

/**
 * In a project, clips that nobody has labelled yet wait, and so do spots with none else.
 * @param opened the clips of each spot; labels null: none
 */
export function labelledOnes<C extends { dir: string; labels: unknown }>(
  spots: readonly Spot[],
  opened: readonly C[][],
  { onWarning }: Pick<OpenPorts, 'onWarning'>,
): (Spot & { opened: C[] })[] {
  const all = spots.map((spot, i) => ({ ...spot, opened: opened[i]! }));
  const isLabelled = ({ labels }: C) => labels !== null;
  if (spots.some(({ site }) => site === null) || !opened.flat().some(isLabelled)) return all;
  for (const { dir } of opened.flat().filter((clip) => !isLabelled(clip))) {
    onWarning(`${dir}: left out, because it has no labels.json yet`);
  }
  return all
    .map((spot) => ({ ...spot, opened: spot.opened.filter(isLabelled) }))
    .filter((spot) => spot.opened.length > 0);
}

export interface SpotsTuned {
  result: TuneResult;
  cameraOf: (site: SiteResult) => Camera;
}

/**
 * Tunes the spots, those of one camera and the same settings in use at once; sites come in the order of the spots.
 * @param cameras what is to be compared, the camera of all spots first; none: nothing is
 * @throws Problem where what is asked takes one camera, or one group of settings in use, and there are several
 */
export async function tuneSpots(
  spots: readonly OpenSpot[],
  { together = false, ...input }: Omit<TuneInput, 'clips' | 'camera' | 'otherCameras' | 'now'>,
  cameras: readonly CameraNamed[],
  ports: OpenPorts,
): Promise<SpotsTuned> {
  const groups = alikeSpots(spots);
  if (together && groups.length > 1) refuseSeveral('--together', 'one camera and the same settings in use');
  if (input.wanted && 'lasts' in input.wanted) mustHaveOneCamera('--lasts', spots);
  const told = sayingOnce(ports);
  const ofSites = new Map<SiteResult, Camera>();
  const all = spots.flatMap(({ opened }) => opened);
  if (cameras.length > 0) await readForAll(all, cameras, input.wanted, told);
  const results: TuneResult[] = [];
  for (const group of groups) {
    const { camera, settings } = group[0]!;
    const clips = group.flatMap(({ opened }) => opened);
    const result = await tune({ ...input, together, clips, camera, now: settings ?? undefined }, told);
    for (const site of result.sites) ofSites.set(site, camera);
    results.push(result);
  }
  const place = ({ site }: SiteResult) => spots.findIndex((spot) => spot.site === site);
  const sites = results.flatMap((result) => result.sites);
  // Clips that are named by hand are one spot, whose sites come as they do.
  if (groups.length > 1) sites.sort((a, b) => place(a) - place(b));
  const batteries = results.flatMap(({ battery }) => battery ?? []);
  const [battery] = batteries;
  return {
    result: {
      sites,
      tells: worstOf(sites.map(({ tells }) => tells)),
      ...(battery && { battery: { ...battery, sites: batteries.flatMap((one) => one.sites) } }),
      ...(cameras.length > 0 && (await compareCameras(all, cameras, sites, input.wanted, told))),
    },
    cameraOf: (site) => ofSites.get(site)!,
  };
}

/** @throws Problem where the spots have several cameras, and an option is for one */
export function mustHaveOneCamera(option: string, spots: readonly Spot[]): void {
  const cameras = new Set(spots.map(({ camera }) => JSON.stringify(camera)));
  if (cameras.size > 1) refuseSeveral(option, 'one camera');
}

function refuseSeveral(option: string, expected: string): never {
  throw new Problem(
    'usage',
    `${option}: expected spots with ${expected}, found several; choose a spot with --site, or leave ${option} out`,
  );
}

/** Ports through which a line that was told already is not told again. */
export function sayingOnce(ports: OpenPorts): OpenPorts {
  const said = new Set<string>();
  const onWarning = (line: string) => {
    if (said.has(line)) return;
    said.add(line);
    ports.onWarning(line);
  };
  return { ...ports, onWarning };
}
