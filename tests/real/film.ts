import { execFileSync } from 'node:child_process';
import { everyFrameOnce } from '../../src/clip/ffmpeg.js';

/** Frames of a recording as the tests read it, apart from the code they check: RGB, rows from the top. */
export interface Film {
  width: number;
  height: number;
  /** By index in the recording. */
  frames: Map<number, Uint8Array>;
}

/** Decodes the frames asked for (rising indices). */
export async function readFilm(
  file: string,
  width: number,
  height: number,
  indices: readonly number[],
): Promise<Film> {
  const wanted = indices.map((n) => `eq(n,${n})`).join('+');
  const size = width * height * 3;
  const bytes = execFileSync(
    'ffmpeg',
    [
      ...['-v', 'error', '-nostdin', '-flags', 'bitexact', '-i', file, ...(await everyFrameOnce())],
      ...['-vf', `select='${wanted}',scale=in_range=limited:out_range=full:flags=bitexact+accurate_rnd`],
      ...['-pix_fmt', 'rgb24', '-f', 'rawvideo', 'pipe:1'],
    ],
    { maxBuffer: size * indices.length + 1 },
  );
  if (bytes.length !== size * indices.length) {
    throw new Error(`${file}: expected ${indices.length} frames, found ${bytes.length / size}`);
  }
  const frames = new Map(indices.map((n, i) => [n, bytes.subarray(i * size, (i + 1) * size)]));
  return { width, height, frames };
}

/** The presentation time of every frame, seconds. */
export function frameTimes(file: string): number[] {
  const text = execFileSync(
    'ffprobe',
    ['-v', 'error', '-select_streams', 'v:0', '-show_entries', 'packet=pts_time', '-of', 'csv=p=0', file],
    { encoding: 'utf8' },
  );
  return text.trim().split('\n').map(Number.parseFloat);
}
