import { type Clip, luminanceFrames } from '../clip/open.js';
import { medianByte } from '../diagnose/triggers/look.js';
import { indexOf } from '../score/stretch-index.js';
import { canvasOf } from './canvas.js';
import type { Backdrop } from './diagnosis-data.js';
import { privacyAt } from './people.js';

const WIDTH = 240;
const QUALITY = 60;
/** Enough frames that nothing which passes through the picture survives their median. */
const FRAMES = 9;
/** A video has no cheap way to its middle. */
const VIDEO_SECONDS = 600;
/** Grey level of the backdrop on average, and what is left of its contrast: marks must stand out on it. */
const [PALE, CONTRAST] = [186, 0.5];

/**
 * The scene without what passed through it: at each pixel the median luminance of a few frames from all over the clip,
 * pale and of low contrast. Frames with people in them or that nobody reviewed are left out.
 */
export async function backdropOf(clip: Clip): Promise<Backdrop> {
  const width = Math.min(WIDTH, clip.width);
  const height = Math.max(1, Math.round((width * clip.height) / clip.width));
  const aspect = clip.height / clip.width;
  const indices = framesToShow(clip);
  if (indices.length === 0) return { address: null, aspect };
  const read: Uint8Array[] = [];
  for await (const y of luminanceFrames(clip, indices, { width, height })) read.push(y.slice());
  const canvas = canvasOf(paled(medianOf(read)), 1, width, height);
  const jpeg = await canvas.getBuffer('image/jpeg', { quality: QUALITY });
  return { address: `data:image/jpeg;base64,${jpeg.toString('base64')}`, aspect };
}

/** Frames that may be shown, evenly over the clip. */
function framesToShow({ labels, times, source }: Clip): number[] {
  const most = source.kind === 'video' ? VIDEO_SECONDS : Number.POSITIVE_INFINITY;
  const reviewed = (time: number) => !labels?.reviewed || indexOf(labels.reviewed).any(time);
  const free = Array.from(times.keys()).filter((k) => {
    const time = times[k]!;
    return time <= most && reviewed(time) && privacyAt(labels, [time], { animal: false }).kind === 'nobody';
  });
  const count = Math.min(FRAMES, free.length);
  return Array.from({ length: count }, (_, i) => free[Math.floor(((i + 0.5) * free.length) / count)]!);
}

/** At each place the middle of all values. */
function medianOf(frames: readonly Uint8Array[]): Uint8Array {
  const values = new Uint8Array(frames.length);
  return Uint8Array.from({ length: frames[0]?.length ?? 0 }, (_, i) => {
    frames.forEach((frame, k) => {
      values[k] = frame[i]!;
    });
    return medianByte(values);
  });
}

function paled(grey: Uint8Array): Uint8Array {
  const mean = grey.reduce((sum, y) => sum + y, 0) / grey.length;
  return grey.map((y) => Math.min(250, Math.max(110, Math.round(PALE + CONTRAST * (y - mean)))));
}
