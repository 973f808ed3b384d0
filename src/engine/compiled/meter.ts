import { EvidenceMeter } from '../evidence.js';
import { compiledJoiner } from './joiner.js';

/**
 * An EvidenceMeter for many frames: it takes longer to make, and half as long for each frame where there is WebAssembly.
 * @param floor the lowest level wanted, 1 to 255
 */
export function meterForMany(width: number, height: number, floor = 1): EvidenceMeter {
  return new EvidenceMeter(width, height, floor, compiledJoiner(width, height, floor) ?? undefined);
}
