import { z } from 'zod';
import { Problem } from '../base/problem.js';
import type { Cache } from '../store/cache.js';
import { readSealed, writeSealed } from '../store/sealed.js';
import { inputOf, refuseOtherKinds } from './containers.js';
import { complaintIn, run, textOf } from './ffmpeg.js';
import { decodedFrames, type FrameList } from './frame-list.js';
import { framesByPackets } from './packet-times.js';
import { MOST_PIXELS, refuseLarge } from './size.js';

/** What ffprobe knows of a video: one entry in each list for every frame that decodes. */
export interface Probe {
  width: number;
  height: number;
  pixelFormat: string;
  /** ffprobe's words; 'unknown' where the file does not say. */
  range: string;
  matrix: string;
  /** Presentation times in seconds; NaN for a frame without one. */
  times: Float64Array;
  /** Indices of key frames. */
  keyFrames: Uint32Array;
  /** Bytes of all frames' packets. */
  bytes: number;
  /** What ffprobe complained of; '' when nothing. */
  complaint: string;
  /** Whether the frames are those that its packets promise, which were tried at a few places and not all decoded. */
  promised: boolean;
  /** Why all of it was decoded just now to find its frames, in words; null where it was not, or that takes no time. */
  doubt: string | null;
}

const streamSchema = z.object({
  streams: z.array(
    z.object({
      width: z.int().min(1),
      height: z.int().min(1),
      pix_fmt: z.string().default('unknown'),
      color_range: z.string().default('unknown'),
      color_space: z.string().default('unknown'),
    }),
  ),
});

const storedSchema = z.object({
  ...streamSchema.shape,
  times: z.array(z.number().nullable()),
  keyFrames: z.array(z.int()),
  bytes: z.number(),
  complaint: z.string(),
  promised: z.boolean(),
});

/** Kept in the place of a probe whose packets promised what did not decode. */
const distrustSchema = z.object({ distrust: z.string() });

/** Raised whenever what is stored changes its meaning, or what is refused. */
const storedVersion = 'v4';

/** Under which name a video's probe is kept. */
function probeEntry(contentKey: string): string[] {
  return ['probe', storedVersion, contentKey];
}

/**
 * Probes a video by its packets, or by decoding it once where they cannot be believed; kept under its content.
 * @param onProgress told how many bytes of its packets were decoded, where they are; the file holds more than those
 * @throws Problem 'needs-ffmpeg', 'bad-video'
 */
export async function probe(
  file: string,
  contentKey: string,
  cache: Cache,
  signal?: AbortSignal,
  onProgress: (bytes: number) => void = () => undefined,
): Promise<Probe> {
  const entry = probeEntry(contentKey);
  const stored = tryJson((await readSealed(cache, entry)) ?? '');
  const known = storedSchema.safeParse(stored).data;
  if (known) return assemble(known, null);
  const distrust = distrustSchema.safeParse(stored).data?.distrust;
  const streams = await streamsOf(file);
  const told = distrust === undefined ? await framesByPackets(file, signal) : { doubt: distrust };
  const promised = 'frames' in told;
  const frames = promised ? told.frames : await allDecoded(file, signal, onProgress);
  const fresh: Stored = { streams, ...frames, promised };
  await writeSealed(cache, entry, Buffer.from(JSON.stringify(fresh)));
  return assemble(fresh, promised ? null : told.doubt);
}

/**
 * Notes that a video's packets promised frames that did not decode: when it is opened next, all of it is decoded.
 * @param why in words
 */
export async function distrustPackets(cache: Cache, contentKey: string, why: string): Promise<void> {
  await writeSealed(cache, probeEntry(contentKey), Buffer.from(JSON.stringify({ distrust: why })));
}

/**
 * Notes what ffmpeg complained of when all frames that a video's packets promised were decoded, for whoever opens it next.
 * @returns whether nobody had noted it before
 */
export async function noteDamage(cache: Cache, contentKey: string, complaint: string): Promise<boolean> {
  const entry = probeEntry(contentKey);
  const stored = storedSchema.safeParse(tryJson((await readSealed(cache, entry)) ?? '')).data;
  if (stored?.complaint !== '') return false;
  await writeSealed(cache, entry, Buffer.from(JSON.stringify({ ...stored, complaint })));
  return true;
}

type Stored = z.output<typeof storedSchema>;

async function streamsOf(file: string): Promise<Stored['streams']> {
  const about = await textOf(
    await run('ffprobe', [
      ...['-v', 'error', '-select_streams', 'v:0', '-of', 'json'],
      ...['-show_entries', 'stream=width,height,pix_fmt,color_range,color_space', ...inputOf(file)],
    ]),
  );
  const streams = about.code === 0 ? streamSchema.safeParse(tryJson(about.text)).data?.streams : undefined;
  if (!streams?.[0]) {
    refuseOtherKinds(file, about.errors);
    const why = complaintIn(about.errors) || 'it holds no video stream';
    throw new Problem(
      'bad-video',
      `${file}: not a video that ffprobe can read (${why}); record or copy it again, or give the clip as stills`,
    );
  }
  try {
    refuseLarge(streams[0], MOST_PIXELS);
  } catch (error) {
    throw new Problem('bad-video', `${file}: ${(error as Error).message}`);
  }
  return streams;
}

async function allDecoded(
  file: string,
  signal: AbortSignal | undefined,
  onProgress: (bytes: number) => void,
): Promise<FrameList> {
  const { code, ...found } = await decodedFrames(file, { signal, onProgress });
  if (code === 0 && found.times.length > 0) return found;
  const why = found.complaint || (code === 0 ? 'no frame decodes' : `ffprobe ended with ${code}`);
  throw new Problem('bad-video', `${file}: cannot be decoded (${why}); record or copy it again`);
}

function assemble(
  { streams, times, keyFrames, bytes, complaint, promised }: Stored,
  doubt: string | null,
): Probe {
  const stream = streams[0] as Stored['streams'][number];
  return {
    width: stream.width,
    height: stream.height,
    pixelFormat: stream.pix_fmt,
    range: stream.color_range,
    matrix: stream.color_space,
    times: Float64Array.from(times, (time) => time ?? Number.NaN),
    keyFrames: Uint32Array.from(keyFrames),
    bytes,
    complaint,
    promised,
    doubt,
  };
}

function tryJson(text: string | Buffer): unknown {
  try {
    return JSON.parse(text.toString());
  } catch {
    return undefined;
  }
}
