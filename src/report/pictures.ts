import { type Camera, keepsEvidence } from '../camera/description.js';
import { type Clip, frames, type RawFrame } from '../clip/open.js';
import { luminance } from '../engine/luminance.js';
import { Differencer } from '../engine/pipeline.js';
import { changedRegion, largestRegion, type Region } from '../engine/region.js';
import { levelOf } from '../engine/triggers.js';
import { analysedFrames } from '../measure/evidence.js';
import { type Canvas, copyOf, frameBox, smallCanvasOf } from './canvas.js';
import type { Picture } from './data.js';
import { hatch } from './hatch.js';
import { blurBox } from './people.js';
import type { Shot } from './shots.js';

const WIDTH = 320;
const QUALITY = 70;
/** An average has forgotten all but 2 % of the frame it starts with after so many of its time constants. */
const TIMES_TO_FORGET = 4;

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

async function picture(shot: Shot, canvas: Canvas, region: Region | undefined): Promise<Picture> {
  const blurred = shot.privacy.kind === 'blur';
  if (shot.privacy.kind === 'blur') for (const box of shot.privacy.boxes) blurBox(canvas, box);
  if (region) hatch(canvas, region);
  if (shot.box) frameBox(canvas, shot.box);
  const jpeg = await canvas.getBuffer('image/jpeg', { quality: QUALITY });
  return {
    address: `data:image/jpeg;base64,${jpeg.toString('base64')}`,
    width: canvas.bitmap.width,
    height: canvas.bitmap.height,
    caption: shot.caption,
    hatched: region !== undefined,
    blurred,
  };
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
    minWidth: Math.max(width, Math.min(WIDTH, clip.width)),
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
      const canvas = smallCanvasOf(pixels, channels, frame.width, frame.height, WIDTH);
      if (canvas.bitmap.width > WIDTH) canvas.resize({ w: WIDTH });
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
  const { reference } = camera;
  for (let k = 0; k < times.length; k++) {
    const time = times[k]!;
    if (!fired.has(time)) continue;
    const follows = (j: number) =>
      reference.kind === 'previous'
        ? j >= k - reference.lag
        : times[j]! >= time - TIMES_TO_FORGET * reference.seconds;
    for (let j = k; j >= 0 && follows(j); j--) {
      differenced.set(indices[j]!, { place: j, time: times[j]! });
    }
  }
  return { differenced, fired };
}
