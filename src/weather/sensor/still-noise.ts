const LEVELS = 16;
/** Pixels of a brightness that tell its noise. */
const ENOUGH = 200;
/** Noise grows with brightness, but no brightness is this many times as noisy as the quietest one makes likely. */
const MOST_TIMES = 4;

/**
 * Mean squared change that the sensor's noise alone makes, for each pixel: what the quieter quarter of the pixels of its
 * brightness show. Where nearly all of a brightness moves, the quieter brightnesses speak for it.
 *
 * @param energy squared change around each pixel, the mean over a window
 * @param mean grey level there
 */
export function noiseByBrightness(energy: Float32Array, mean: Float32Array): Float32Array {
  const levelOf = (grey: number) => Math.min(LEVELS - 1, Math.floor((grey * LEVELS) / 256));
  const lists: number[][] = Array.from({ length: LEVELS }, () => []);
  for (let i = 0; i < energy.length; i++) lists[levelOf(mean[i]!)]!.push(energy[i]!);
  const own = lists.map((list) =>
    list.length < ENOUGH ? undefined : list.sort((a, b) => a - b)[list.length >> 2]!,
  );
  // A sensor's variance grows in proportion to the signal at most (EMVA 1288), on top of what it has in the dark.
  const likely = (level: number) => level + 4;
  const quietest = Math.min(
    ...own.flatMap((noise, level) => (noise === undefined ? [] : [noise / likely(level)])),
  );
  const known = own.map((noise, level) => {
    const most = Number.isFinite(quietest) ? MOST_TIMES * quietest * likely(level) : 0;
    return Math.max(1 / 6, noise === undefined ? most / 2 : Math.min(noise, most));
  });
  return mean.map((grey) => known[levelOf(grey)]!);
}
