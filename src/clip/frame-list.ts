import { createInterface } from 'node:readline';
import { inputOf } from './containers.js';
import { complaintIn, run } from './ffmpeg.js';

/** What a video's frames are, in the order they are shown. */
export interface FrameList {
  /** Presentation times in seconds; null for a frame without one. */
  times: (number | null)[];
  /** Indices of key frames. */
  keyFrames: number[];
  /** Bytes of all frames' packets. */
  bytes: number;
  /** What ffprobe complained of; '' when nothing. */
  complaint: string;
}

/** How ffprobe ended, beside what it found. */
export interface Listing extends FrameList {
  code: number | null;
}

/**
 * The frames that decode, of all of a video or of a part of it, found by decoding them.
 * @param onProgress told of the bytes of packets decoded so far
 * @param part as ffprobe's -read_intervals has it; left out: all
 * @throws Problem 'needs-ffmpeg'; the signal's reason when aborted
 */
export async function decodedFrames(
  file: string,
  {
    signal,
    onProgress,
    part,
  }: { signal?: AbortSignal | undefined; onProgress?: (bytes: number) => void; part?: string },
): Promise<Listing> {
  const found: FrameList = { times: [], keyFrames: [], bytes: 0, complaint: '' };
  const interval = part === undefined ? [] : ['-read_intervals', part];
  // When frames are shown and whether they are whole does not depend on it, and decoding takes a sixth less.
  const sooner = ['-skip_loop_filter', 'all'];
  const entries = 'frame=key_frame,best_effort_timestamp_time,pkt_size';
  const end = await linesOf(file, [...sooner, ...interval, '-show_entries', entries], signal, (fields) => {
    if (!fields.has('key_frame')) return;
    if (fields.get('key_frame') === '1') found.keyFrames.push(found.times.length);
    found.times.push(timeOf(fields.get('best_effort_timestamp_time')));
    found.bytes += Number(fields.get('pkt_size')) || 0;
    onProgress?.(found.bytes);
  });
  return { ...found, ...end };
}

/** The packets of a video in the order they are stored. */
export interface Packets {
  /** Presentation times, seconds; NaN for a packet without one. */
  times: number[];
  /** Places of those that begin at a key frame. */
  keys: number[];
  /** Of all of them. */
  bytes: number;
  /** Those whose frames are not to be shown, or are known to be broken. */
  dropped: number;
}

/**
 * All packets of a video; nothing is decoded.
 * @throws Problem 'needs-ffmpeg'; the signal's reason when aborted
 */
export async function packetsOf(
  file: string,
  signal?: AbortSignal,
): Promise<Packets & { code: number | null; complaint: string }> {
  const found: Packets = { times: [], keys: [], bytes: 0, dropped: 0 };
  const entries = ['-show_entries', 'packet=pts_time,size,flags'];
  const end = await linesOf(file, entries, signal, (fields) => {
    const flags = fields.get('flags');
    if (flags === undefined) return;
    if (flags.includes('K')) found.keys.push(found.times.length);
    if (/[DC]/.test(flags)) found.dropped++;
    found.times.push(timeOf(fields.get('pts_time')) ?? Number.NaN);
    found.bytes += Number(fields.get('size')) || 0;
  });
  return { ...found, ...end };
}

function timeOf(text: string | undefined): number | null {
  const time = Number(text);
  return text !== undefined && Number.isFinite(time) ? time : null;
}

async function linesOf(
  file: string,
  asked: readonly string[],
  signal: AbortSignal | undefined,
  take: (fields: Map<string, string>) => void,
): Promise<{ code: number | null; complaint: string }> {
  const listing = await run('ffprobe', [
    ...['-v', 'error', '-select_streams', 'v:0', '-of', 'compact=p=0', ...asked, ...inputOf(file)],
  ]);
  const stop = () => listing.kill();
  signal?.addEventListener('abort', stop);
  try {
    for await (const line of createInterface({ input: listing.output })) {
      take(new Map(line.split('|').map((field) => field.split('=', 2) as [string, string])));
    }
  } finally {
    listing.kill();
    signal?.removeEventListener('abort', stop);
  }
  signal?.throwIfAborted();
  const { code, errors } = await listing.ended;
  return { code, complaint: complaintIn(errors) };
}
