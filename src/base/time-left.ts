/** Of the whole: earlier, the pace is that of starting up. */
const GUESSED_FROM = 0.05;
/** Seconds up to which they are counted. */
const MOST_SECONDS = 90;

/** How long something will still take at the pace so far, in words; null where that is too early to tell. */
export function timeLeft(elapsedMs: number, done: number, total: number): string | null {
  if (done <= 0 || done < total * GUESSED_FROM) return null;
  const seconds = (elapsedMs * (total - done)) / done / 1000;
  return seconds > MOST_SECONDS
    ? `about ${Math.ceil(seconds / 60)} min left`
    : `about ${Math.ceil(seconds)} s left`;
}
