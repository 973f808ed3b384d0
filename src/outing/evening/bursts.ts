/** Seconds: photos of one trigger follow one another within so long, where nobody says how the camera takes them. */
const USUAL_GAP = 2;
/** More photos than that are hardly of one trigger. */
const USUAL_MOST = 10;
/** A photo is written a moment late, and stamps may hold whole seconds only. */
const SLACK = 1;

/**
 * The burst that each photo belongs to, counted from 0: photos of one trigger.
 * @param times in order; null where unknown, each a burst of its own
 * @param camera how many photos it takes a trigger, and seconds between them; null where nobody says
 */
export function burstsOf(
  times: readonly (number | null)[],
  camera: { photos: number; interval: number } | null,
): number[] {
  const gap = camera ? camera.interval + SLACK : USUAL_GAP;
  const most = camera?.photos ?? USUAL_MOST;
  let burst = -1;
  let size = 0;
  return times.map((time, i) => {
    const before = times[i - 1] ?? null;
    const joins = time !== null && before !== null && time - before <= gap && size < most;
    size = joins ? size + 1 : 1;
    if (!joins) burst++;
    return burst;
  });
}
