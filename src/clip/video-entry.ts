import { run } from './ffmpeg.js';
import { asStored, type Size } from './outlet.js';
import { selectionOf } from './selection.js';
import { decodingOf } from './video.js';
import type { VideoSource } from './video-source.js';

/** Frames that must be spared for it to be worth proving that they may be. */
const WORTH = 250;
/** Frames that must come out equal. */
const TRIED = 2;

/** A video, and where it may be entered. */
export interface Enterable extends Size {
  source: VideoSource;
  /** Rising. */
  keyFrames?: Uint32Array | undefined;
}

const known = new WeakMap<VideoSource, Map<number, Promise<boolean>>>();

/**
 * The key frame at which decoding may begin so that a frame and those after it come out to the byte as from the first frame on;
 * 0 where none is known, or little would be spared. It is proved at that very place: what is decoded from the key frame is what is
 * decoded from the one before it (pictures may lean on what came before their key frame).
 */
export async function entryBefore(video: Enterable, frame: number): Promise<number> {
  const { source, keyFrames = new Uint32Array() } = video;
  const place = keyFrames.findLastIndex((key) => key <= frame);
  const key = keyFrames[place] ?? 0;
  if (key < WORTH) return 0;
  const ofVideo = known.get(source) ?? new Map<number, Promise<boolean>>();
  known.set(source, ofVideo);
  const proving = ofVideo.get(key) ?? isExact(video, key, keyFrames[place - 1] ?? 0);
  ofVideo.set(key, proving);
  proving.catch(() => ofVideo.delete(key));
  return (await proving) ? key : 0;
}

async function isExact(video: Enterable, key: number, earlier: number): Promise<boolean> {
  const { stamps, frames } = video.source;
  const around = stamps.subarray(key - 1, key + TRIED);
  const isTimed = around.every((time, i) => Number.isFinite(time) && (i === 0 || time > around[i - 1]!));
  if (!isTimed || key + TRIED > frames) return false;
  const [here, there] = await Promise.all([framesAt(video, key, key), framesAt(video, key, earlier)]);
  const { width, height } = video;
  return (
    here.length === TRIED * width * height * asStored(video.source, video).channels && here.equals(there)
  );
}

/** A few frames as stored, decoded from an earlier key frame. */
async function framesAt(video: Enterable, first: number, entry: number): Promise<Buffer> {
  const { source, width, height } = video;
  const wanted = Array.from({ length: TRIED }, (_, i) => first - entry + i);
  const outlet = asStored(source, { width, height });
  const decoding = await run('ffmpeg', [
    ...(await decodingOf(source, video, outlet, { selection: selectionOf(wanted), entry })).slice(0, -1),
    ...['-frames:v', String(TRIED), 'pipe:1'],
  ]);
  const pieces: Buffer[] = [];
  for await (const piece of decoding.output as AsyncIterable<Buffer>) pieces.push(piece);
  await decoding.ended;
  return Buffer.concat(pieces);
}
