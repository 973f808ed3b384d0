import { EvidenceMeter, type LevelWatch } from '../evidence.js';
import { compiledJoiner } from './joiner.js';

/**
 * An EvidenceMeter for many frames: it takes longer to make, and half as long for each frame where there is WebAssembly.
 * @param floor the lowest level wanted, 1 to 255
 * @param watch that will be told of most frames
 */
export function meterForMany(width: number, height: number, floor = 1, watch?: LevelWatch): EvidenceMeter {
  const joiner = compiledJoiner(width, height, floor, watch?.pieces);
  return new EvidenceMeter(width, height, floor, joiner ?? undefined);
}
