import type { Camera } from './description.js';

/** Times that jitter, and rates such as 29.97, fall short of a camera's by less; what is lost between frames then is nothing. */
const SHORT_OF = 0.01;

/**
 * Where a recording gives a camera less than it would see by itself, in pixels or in time: a line each.
 * @param recording width and height in pixels, rate in frames a second
 */
export function coarseNotes(
  recording: { width: number; height: number; rate: number },
  { name, analysis }: Camera,
): string[] {
  const lines: string[] = [];
  if (recording.width < analysis.width || recording.height < analysis.height) {
    lines.push(
      `recorded at ${recording.width} x ${recording.height} pixels, ${name} compares ${analysis.width} x ${analysis.height}: the recording is enlarged, shows less than the camera would see, and areas come in steps; record larger`,
    );
  }
  if (recording.rate < analysis.rate * (1 - SHORT_OF)) {
    lines.push(
      `recorded at ${Number(recording.rate.toPrecision(3))} frames a second, ${name} looks at ${analysis.rate}: what happens between frames is not seen, and persistence lasts longer here than on the camera`,
    );
  }
  return lines;
}
