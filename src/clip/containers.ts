import { Problem } from '../base/problem.js';

/**
 * ffmpeg's names of the containers that are read: those that hold their frames themselves. Playlists, manifests and
 * patterns of names lead to other files, which are neither in the clip nor part of what its results are kept under.
 */
const CONTAINERS = [
  ...[
    'mov',
    'mp4',
    'm4a',
    '3gp',
    '3g2',
    'mj2',
    'matroska',
    'webm',
    'avi',
    'mpegts',
    'mpeg',
    'mpegvideo',
    'm4v',
  ],
  ...[
    'h264',
    'hevc',
    'h263',
    'mjpeg',
    'mpjpeg',
    'av1',
    'obu',
    'ivf',
    'vc1',
    'flv',
    'live_flv',
    'asf',
    'asf_o',
  ],
  ...['ogg', 'nut', 'dv', 'mxf', 'gxf', 'wtv', 'rm', 'dhav', 'gif', 'apng', 'yuv4mpegpipe'],
];

/**
 * The options by which ffmpeg and ffprobe read one video and nothing else. As `file:PATH` no name is taken for an option
 * or a protocol (`-i`, `concat:a|b`); data that a QuickTime file says lie elsewhere are not fetched, by ffmpeg's default.
 */
export function inputOf(file: string): string[] {
  return ['-protocol_whitelist', 'file', '-format_whitelist', CONTAINERS.join(), '-i', `file:${file}`];
}

/**
 * Refuses what turned out to be of another kind.
 * @param errors what ffprobe said
 * @throws Problem 'bad-video'
 */
export function refuseOtherKinds(file: string, errors: string): void {
  const [, kind] = /\[(\w+) @ [^\]]*\] (?:Format|Protocol '\w+') not on whitelist/.exec(errors) ?? [];
  if (kind === undefined) return;
  throw new Problem(
    'bad-video',
    `${file}: its content is of the kind "${kind}", which may lead to other files; expected a recording that holds its frames itself (mp4, mov, mkv, webm, avi, mpeg and the like); make one of it (ffmpeg -i IN -c copy OUT.mkv)`,
  );
}
