import { Problem } from '../base/problem.js';
import type { Camera } from './description.js';

/** Bytes that a reference may hold of past frames: no small board has more. */
const MOST_BYTES = 2 ** 28;

/**
 * Refuses a reference that lies so far back that all frames since would fill the memory.
 * @param file for messages
 * @throws Problem 'bad-field'
 */
export function checkMemory({ analysis: { width, height }, reference }: Camera, file: string): void {
  const most = Math.max(1, Math.floor(MOST_BYTES / (width * height)));
  if (reference.kind !== 'previous' || reference.lag <= most) return;
  throw new Problem(
    'bad-field',
    `${file}: reference.lag: expected a whole number from 1 to ${most} at ${width}x${height} pixels, because every frame up to there is kept in memory, found ${reference.lag}`,
  );
}
