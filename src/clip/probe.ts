import { createInterface } from 'node:readline';
import { z } from 'zod';
import { Problem } from '../base/problem.js';
import type { Cache } from '../store/cache.js';
import { readSealed, writeSealed } from '../store/sealed.js';
import { inputOf, refuseOtherKinds } from './containers.js';
import { run, textOf } from './ffmpeg.js';
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
});

/** Raised whenever what is stored changes its meaning, or what is refused. */
const storedVersion = 'v2';

/**
 * Probes a video by decoding it once; kept under its content.
 * @param onProgress told how many bytes of its packets were decoded; the file holds more than those
 * @throws Problem 'needs-ffmpeg', 'bad-video'
 */
export async function probe(
  file: string,
  contentKey: string,
  cache: Cache,
  signal?: AbortSignal,
  onProgress: (bytes: number) => void = () => undefined,
): Promise<Probe> {
  const entry = ['probe', storedVersion, contentKey];
  const stored = await readSealed(cache, entry);
  const known = stored && storedSchema.safeParse(tryJson(stored)).data;
  if (known) return assemble(known);
  const fresh = await probeNow(file, signal, onProgress);
  await writeSealed(cache, entry, Buffer.from(JSON.stringify(fresh)));
  return assemble(fresh);
}

type Stored = z.output<typeof storedSchema>;

async function probeNow(
  file: string,
  signal: AbortSignal | undefined,
  onProgress: (bytes: number) => void,
): Promise<Stored> {
  const about = await textOf(
    await run('ffprobe', [
      ...['-v', 'error', '-select_streams', 'v:0', '-of', 'json'],
      ...['-show_entries', 'stream=width,height,pix_fmt,color_range,color_space', ...inputOf(file)],
    ]),
  );
  const streams = about.code === 0 ? streamSchema.safeParse(tryJson(about.text)).data?.streams : undefined;
  if (!streams?.[0]) {
    refuseOtherKinds(file, about.errors);
    const why = firstLine(about.errors) || 'it holds no video stream';
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
  const counting = await run('ffprobe', [
    ...['-v', 'error', '-select_streams', 'v:0', '-of', 'compact=p=0'],
    ...['-show_entries', 'frame=key_frame,best_effort_timestamp_time,pkt_size', ...inputOf(file)],
  ]);
  const stop = () => counting.kill();
  signal?.addEventListener('abort', stop);
  const found: Stored = { streams, times: [], keyFrames: [], bytes: 0, complaint: '' };
  try {
    for await (const line of createInterface({ input: counting.output })) {
      const fields = new Map(line.split('|').map((field) => field.split('=', 2) as [string, string]));
      if (!fields.has('key_frame')) continue;
      if (fields.get('key_frame') === '1') found.keyFrames.push(found.times.length);
      const time = Number(fields.get('best_effort_timestamp_time'));
      found.times.push(Number.isFinite(time) ? time : null);
      found.bytes += Number(fields.get('pkt_size')) || 0;
      onProgress(found.bytes);
    }
  } finally {
    counting.kill();
    signal?.removeEventListener('abort', stop);
  }
  signal?.throwIfAborted();
  const { code, errors } = await counting.ended;
  if (code !== 0 || found.times.length === 0) {
    const why = firstLine(errors) || (code === 0 ? 'no frame decodes' : `ffprobe ended with ${code}`);
    throw new Problem('bad-video', `${file}: cannot be decoded (${why}); record or copy it again`);
  }
  found.complaint = firstLine(errors);
  return found;
}

function assemble({ streams, times, keyFrames, bytes, complaint }: Stored): Probe {
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
  };
}

export function firstLine(text: string): string {
  return text.split('\n', 1)[0]?.trim() ?? '';
}

function tryJson(text: string | Buffer): unknown {
  try {
    return JSON.parse(text.toString());
  } catch {
    return undefined;
  }
}
