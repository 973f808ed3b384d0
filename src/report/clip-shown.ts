import type { Camera } from '../camera/description.js';
import { floorFor } from '../camera/floor.js';
import { keepsEvidence } from '../camera/keeps-evidence.js';
import { drawMask } from '../camera/mask.js';
import type { Settings } from '../camera/settings.js';
import type { Clip } from '../clip/open.js';
import type { Diagnosis } from '../diagnose/diagnosis.js';
import type { Polygon } from '../engine/mask.js';
import { levelOf } from '../engine/triggers.js';
import type { OpenPorts } from '../jobs/ports.js';
import { evidenceOf, type ReadingOptions } from '../measure/evidence.js';
import { judgeClip, replayClip } from '../measure/replay.js';
import type { Labels } from '../score/labels.js';
import type { Judged } from '../score/replayed.js';
import { scoreOf } from '../score/score.js';
import { gaps, union } from '../score/stretches.js';
import { clipName } from './clip-name.js';
import {
  type AreaShown,
  type ClipShown,
  type IgnoredShown,
  type LabelsShown,
  type PictureGroup,
  type PictureKind,
  pictureKinds,
} from './data.js';
import { drawPictures } from './pictures.js';
import { shotsOf } from './shots.js';

/** How a clip is to be shown. */
export interface ShownUnder {
  camera: Camera;
  /** A mask of its own goes before the labels' one. */
  settings: Settings & { mask?: Polygon[] };
  /** Of this clip among others; undefined: none was made. */
  diagnosis: Diagnosis | undefined;
  /** Pictures of each kind at most. */
  perKind: number;
}

/**
 * Replays a clip and draws what a report shows of it.
 * @param triggers seconds from the clip's start, where they are known already; undefined: it is replayed for them
 * @throws whatever reading the clip throws
 */
export async function clipShown(
  clip: Clip,
  triggers: readonly number[] | undefined,
  { camera, settings, diagnosis, perKind }: ShownUnder,
  ports: OpenPorts,
): Promise<{ shown: ClipShown; judged: Judged }> {
  const mask = drawMask(settings.mask ?? clip.labels?.mask, camera);
  // What there is to be said of a recording was said when it was first read.
  const { onWarning: _, ...reading } = ports;
  const times = triggers ?? (await replayClip(clip, camera, { ...settings, warnings: [] }, reading));
  const judged = await judgeClip(clip, camera, { ...settings, warnings: [] }, times, reading);
  const groups = shotsOf(judged, clip.labels, clip.times, perKind);
  // A diagnosis shows what fired falsely and what was missed by itself, and says why.
  if (diagnosis) groups.nothing = groups.missed = nothingShot;
  if (diagnosis && !clip.labels) groups.taken = nothingShot;
  const shots = pictureKinds.flatMap((kind) => groups[kind].shots);
  const drawn = await drawPictures(clip, camera, shots, { mask, threshold: settings.threshold });
  const group = (kind: PictureKind): PictureGroup => {
    const { shots, more, people } = groups[kind];
    return { pictures: drawn.splice(0, shots.length), more, people };
  };
  const shown: ClipShown = {
    name: clipName(clip),
    seconds: clip.seconds,
    area: await areaShown(clip, camera, settings, mask, reading),
    minimumArea: settings.minimumArea,
    triggers: judged.triggers,
    labels: labelsShown(clip, judged),
    // In the order in which they were drawn.
    pictures: { taken: group('taken'), nothing: group('nothing'), missed: group('missed') },
  };
  return { shown, judged };
}

const nothingShot = { shots: [], more: 0, people: 0 };

async function areaShown(
  clip: Clip,
  camera: Camera,
  settings: Settings,
  mask: Uint8Array | null,
  reading: ReadingOptions,
): Promise<AreaShown> {
  if (!keepsEvidence(camera)) {
    return {
      kind: 'not measured',
      why: `What ${camera.name} compares with depends on its triggers, so the area is not drawn, and nothing is hatched in the photos.`,
    };
  }
  const level = levelOf(settings.threshold);
  const evidence = await evidenceOf(clip, camera, mask, floorFor(camera, level), reading);
  const pixels = (await evidence.columns([level], camera.area)).get(level) as Uint32Array;
  return {
    kind: 'measured',
    measure: camera.area,
    threshold: settings.threshold,
    times: evidence.times,
    pixels,
  };
}

function labelsShown({ labels, seconds }: Clip, judged: Judged): LabelsShown {
  if (!labels || !judged.counts) return { kind: 'unlabelled' };
  return {
    kind: 'labelled',
    score: scoreOf(judged.counts),
    visits: judged.visits.map(({ start, end, name, caught }) => ({ start, end, name: name ?? null, caught })),
    ignored: ignoredShown(labels, seconds),
  };
}

function ignoredShown(labels: Labels, seconds: number): IgnoredShown[] {
  const aside = (labels.ignored ?? []).map(({ start, end, why }) => ({
    start,
    end: Math.min(end, seconds),
    kind: 'set aside' as const,
    why: why ?? null,
  }));
  const others = labels.visits
    .filter((visit) => visit.type !== 'animal')
    .map(({ start, end, type }) => ({ start, end, kind: 'other visitor' as const, why: type }));
  const unreviewed = (labels.reviewed ? gaps(union(labels.reviewed), 0, seconds) : [])
    .filter(({ start, end }) => end > start)
    .map((stretch) => ({ ...stretch, kind: 'not reviewed' as const, why: null }));
  return [...aside, ...others, ...unreviewed].filter(({ start }) => start < seconds);
}
