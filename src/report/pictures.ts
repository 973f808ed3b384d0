import type { Camera } from '../camera/description.js';
import { keepsEvidence } from '../camera/keeps-evidence.js';
import { type Clip, frames, type RawFrame } from '../clip/open.js';
import { luminance } from '../engine/luminance.js';
import { Differencer } from '../engine/pipeline.js';
import { changedRegion, largestRegion, type Region } from '../engine/region.js';
import { levelOf } from '../engine/triggers.js';
import { analysedFrames } from '../measure/analysed.js';
import { remembered } from '../measure/difference-at.js';
import { type Box, type Canvas, copyOf, frameBox, smallCanvasOf } from './canvas.js';
import { boxOf, cropAround, cropped } from './crop.js';
import { mark } from './hatch.js';
import { blurBox } from './people.js';
import type { Picture } from './picture-data.js';
import type { Shot } from './shots.js';

const WIDTH = 320;
/** Frames are read as large as this, as far as they are, for close-ups of what fired. */
const READ_WIDTH = 640;
/** A close-up shows a third of the picture, or more where what fired is larger; from so much on it would show no more than the picture. */
const [CLOSE, NOT_CLOSE] = [1 / 3, 0.7];
const CLOSE_WIDTH = 240;
const QUALITY = 70;

export interface DrawingOptions {
  /** At the analysis size, 1 where not watched. */
  mask: Uint8Array | null;
  threshold: number;
  signal?: AbortSignal;
}

/**
 * Draws pictures of a clip in one reading of the few frames they need. The region that fired is found anew from the
 * frames around it; where the reference depends on the triggers it cannot be, and nothing is hatched. A JPEG may be
 * decoded larger here than for the evidence, so that a region can differ from it by a few pixels.
 * @returns for each shot its picture, in the same order
 */
export async function drawPictures(
  clip: Clip,
  camera: Camera,
  shots: readonly Shot[],
  options: DrawingOptions,
): Promise<Picture[]> {
  const { regions, canvases } = await read(clip, camera, shots, options);
  const pictures: Picture[] = [];
  for (const shot of shots) {
    const canvas = copyOf(canvases.get(shot.frame) as Canvas);
    const region = shot.trigger === null ? undefined : regions.get(shot.trigger);
    pictures.push(await picture(shot, canvas, region));
  }
  return pictures;
}

/** Where what fired lay at triggers of a clip, by their times, as drawn; none where it cannot be found anew. */
export async function firedBoxes(
  clip: Clip,
  camera: Camera,
  shots: readonly Shot[],
  options: DrawingOptions,
): Promise<Map<number, Box | null>> {
  const { regions } = await read(clip, camera, shots, options);
  return new Map([...regions].map(([time, region]) => [time, boxOf(region)]));
}

async function picture(shot: Shot, canvas: Canvas, region: Region | undefined): Promise<Picture> {
  const blurred = shot.privacy.kind === 'blur';
  if (shot.privacy.kind === 'blur') for (const box of shot.privacy.boxes) blurBox(canvas, box);
  const closeUp = await closeUpOf(canvas, (region && boxOf(region)) ?? shot.box);
  if (canvas.bitmap.width > WIDTH) canvas.resize({ w: WIDTH });
  if (region) mark(canvas, region);
  if (shot.box) frameBox(canvas, shot.box);
  return {
    address: await addressOf(canvas),
    width: canvas.bitmap.width,
    height: canvas.bitmap.height,
    caption: shot.caption,
    hatched: region !== undefined,
    blurred,
    ...(closeUp && { closeUp }),
  };
}

/** What fired, or where the animal was, about three times as large and unmarked; null where it fills the picture or nobody knows. */
async function closeUpOf(canvas: Canvas, box: Box | null): Promise<Picture['closeUp'] | null> {
  if (!box) return null;
  const crop = cropAround(box, CLOSE);
  if (crop[2] >= NOT_CLOSE) return null;
  const close = cropped(canvas, crop, CLOSE_WIDTH);
  return { address: await addressOf(close), width: close.bitmap.width, height: close.bitmap.height };
}

async function addressOf(canvas: Canvas): Promise<string> {
  const jpeg = await canvas.getBuffer('image/jpeg', { quality: QUALITY });
  return `data:image/jpeg;base64,${jpeg.toString('base64')}`;
}

/** Regions by the trigger's time, pictures by their frame. */
async function read(clip: Clip, camera: Camera, shots: readonly Shot[], options: DrawingOptions) {
  const { width, height } = camera.analysis;
  const plan = planOf(clip, camera, shots);
  const wanted = new Set(shots.map((shot) => shot.frame));
  const all = Uint32Array.from(new Set([...wanted, ...plan.differenced.keys()])).sort();
  const regions = new Map<number, Region>();
  const canvases = new Map<number, Canvas>();
  const reading = {
    minWidth: Math.max(width, Math.min(READ_WIDTH, clip.width)),
    minHeight: height,
    ...(options.signal && { signal: options.signal }),
  };
  let differencer: Differencer | null = null;
  let last = -2;
  // A function of its own, so that nothing of a large frame is held while the next is decoded.
  const take = (frame: RawFrame) => {
    const { index, pixels, channels } = frame;
    const analysed = plan.differenced.get(index);
    if (analysed !== undefined) {
      if (analysed.place !== last + 1 || !differencer) {
        differencer = new Differencer({
          ...camera.analysis,
          reference: camera.reference,
          mask: options.mask,
        });
      }
      last = analysed.place;
      const y = luminance(
        pixels,
        channels,
        frame.width,
        frame.height,
        width,
        height,
        new Uint8Array(width * height),
      );
      const difference = differencer.next(y, analysed.time);
      if (plan.fired.has(analysed.time)) {
        const find = camera.area === 'changed' ? changedRegion : largestRegion;
        regions.set(analysed.time, find(difference, width, height, levelOf(options.threshold)));
      }
    }
    if (wanted.has(index)) {
      const canvas = smallCanvasOf(pixels, channels, frame.width, frame.height, READ_WIDTH);
      if (canvas.bitmap.width > READ_WIDTH) canvas.resize({ w: READ_WIDTH });
      canvases.set(index, canvas);
    }
  };
  for await (const frame of frames(clip, all, reading)) take(frame);
  return { regions, canvases };
}

/** Which frames must be differenced, by their index in the clip, so that the reference is right where it fired. */
function planOf(clip: Clip, camera: Camera, shots: readonly Shot[]) {
  const differenced = new Map<number, { place: number; time: number }>();
  const fired = new Set(shots.flatMap(({ trigger }) => (trigger === null ? [] : [trigger])));
  if (!keepsEvidence(camera)) return { differenced, fired };
  const { indices, times } = analysedFrames(clip, camera);
  for (let k = 0; k < times.length; k++) {
    if (!fired.has(times[k]!)) continue;
    for (const j of remembered(camera, times, k)) {
      differenced.set(indices[j]!, { place: j, time: times[j]! });
    }
  }
  return { differenced, fired };
}
