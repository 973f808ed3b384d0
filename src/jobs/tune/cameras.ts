import type { Camera } from '../../camera/description.js';
import { type LabelledClip, needLabels } from '../../clip/labelled.js';
import type { Clip } from '../../clip/open.js';
import { truthOf } from '../../score/truth.js';
import { gridFor, triesAll } from '../../sweep/for-camera.js';
import { type Apart, apart, cutBlocks } from '../../tune/blocks.js';
import { againstFirst, takenOf } from '../../tune/cameras.js';
import type { SiteResult } from '../../tune/site-result.js';
import { recordedOf } from '../../tune/tune.js';
import { noteCoarseClips } from '../open.js';
import type { OpenPorts } from '../ports.js';
import { type CameraDoes, cameraAtSite, type Ground } from './camera-at-site.js';
import { type CameraNamed, calledApart } from './camera-names.js';
import type { CameraAtSite, CamerasCompared, CameraTold } from './cameras-told.js';
import { goalOfAll, heldAgainstFirst } from './held-against-first.js';
import { batteryAt } from './lasts.js';
import { BLOCKS } from './sweep-clip.js';
import { goalAt, goalOf, type Wanted } from './wanted.js';
import { whichOf } from './which-camera.js';

/** What tuning found at a site for the first of several cameras. */
type SiteTuned = Pick<SiteResult, 'site' | 'clips' | 'tells' | 'mask' | 'recommended'>;

/**
 * Holds cameras against the first of them on the same labelled clips, each tuned by its dials alone; on footage left out,
 * for what was chosen on some footage flatters itself on it.
 * @param sites what tuning found for the first
 */
export async function compareCameras(
  clips: readonly Clip[],
  cameras: readonly CameraNamed[],
  sites: readonly SiteTuned[],
  wanted: Wanted | undefined,
  ports: OpenPorts,
): Promise<CamerasCompared> {
  const names = calledApart(cameras);
  const asked = cameras.map(({ camera }, c) => {
    if (c > 0) noteCoarseClips(clips, camera, ports);
    // What a battery leaves was told of the first when it was tuned.
    return goalOf(wanted, camera, { onWarning: c > 0 ? ports.onWarning : () => undefined });
  });
  const grounds = sites.map((site) => groundOf(site, clips, cameras));
  /** By site, then by camera. */
  const does: CameraDoes[][] = [];
  for (const [s, { mask, recommended, tells }] of sites.entries()) {
    const chosen = { choice: mask?.withoutIt ?? recommended, tells };
    const here: CameraDoes[] = [];
    for (const [c, { camera }] of cameras.entries()) {
      const goalFor: Parameters<typeof cameraAtSite>[2] = (swept, grid) =>
        goalAt(asked[c]!, wanted, swept, grid);
      here.push(await cameraAtSite(grounds[s]!, camera, goalFor, c === 0 ? chosen : null, ports));
    }
    does.push(here);
  }
  const told = cameras.map((_, c) => cameraTold(c, cameras, names[c]!, sites, grounds, does));
  return { cameras: told, whichCamera: whichOf(told, does, cameras) };
}

/** @param c which of the cameras; `does` by site, then by camera */
function cameraTold(
  c: number,
  cameras: readonly CameraNamed[],
  name: string,
  sites: readonly SiteTuned[],
  grounds: readonly Ground[],
  does: readonly CameraDoes[][],
): CameraTold {
  const first = cameras[0]!.camera;
  const { camera, file } = cameras[c]!;
  const of = does.map((here) => here[c]!);
  const all = of.flatMap(({ leftOut }) => leftOut);
  const ofFirst = does.flatMap((here) => here[0]!.leftOut);
  const together = c === 0 ? null : heldAgainstFirst(ofFirst, all, goalOfAll(of), [first, camera]);
  return {
    camera: name,
    file,
    width: camera.analysis.width,
    height: camera.analysis.height,
    rate: camera.analysis.rate,
    pixelsPerSecond: pixelsPerSecond(camera),
    work: pixelsPerSecond(camera) / pixelsPerSecond(first),
    searched: gridFor(camera).size,
    triesAll: triesAll(camera),
    sites: sites.map((site, s) => atSite(site, grounds[s]!, does[s]!, c, [first, camera])),
    leftOut: all.length === 0 ? null : { ...takenOf(all), against: together?.against ?? null },
    verdict: together?.verdict ?? null,
  };
}

/** The clips of a site that count, cut into blocks such that no camera's reference or photos reach from one into the next. */
function groundOf(site: SiteTuned, clips: readonly Clip[], cameras: readonly CameraNamed[]): Ground {
  const of = clips.filter(({ dir }) => site.clips.includes(dir));
  for (const clip of of) needLabels(clip);
  const judged = recordedOf(
    of.map((clip) => ({ clip: clip as LabelledClip, simulated: clip.manifest.simulated !== undefined })),
  );
  const gaps = cameras.map(({ camera }) => apart(camera));
  const widest = (of: keyof Apart) => Math.max(...gaps.map((gap) => gap[of]));
  const gap = { memory: widest('memory'), photoSpan: widest('photoSpan') };
  return {
    site: site.site,
    clips: judged.map(({ clip }) => ({
      clip,
      blocks: cutBlocks(truthOf(clip.labels, clip.seconds), BLOCKS, gap),
    })),
  };
}

function atSite(
  { site }: SiteTuned,
  { clips }: Ground,
  does: readonly CameraDoes[],
  c: number,
  cameras: readonly [Camera, Camera],
): CameraAtSite {
  const own = does[c]!;
  const first = does[0]!;
  const compared = c === 0 ? null : heldAgainstFirst(first.leftOut, own.leftOut, own.goal, cameras);
  const { hours, photosPerHour } = batteryAt(cameras[1], own.choice);
  return {
    site,
    tells: own.tells,
    choice: own.choice,
    battery: { hours, photosPerHour },
    against: c === 0 ? null : againstFirst(first.onClips, own.onClips, own.goal),
    leftOut:
      own.leftOut.length === 0
        ? null
        : {
            how: clips.length > 1 ? 'leave one clip out' : 'blocks of time',
            ...takenOf(own.leftOut),
            against: compared?.against ?? null,
          },
    verdict: compared?.verdict ?? null,
  };
}

function pixelsPerSecond({ analysis: { width, height, rate } }: Camera): number {
  return width * height * rate;
}
