import { createHash } from 'node:crypto';

/** File systems take names of up to 255 bytes. */
const MOST_BYTES = 255;

/**
 * A file name that begins like another: `name` and `ending`, where that fits. Of a longer name the beginning stays, and a
 * digest of all of it tells it from others that begin alike.
 */
export function nameAfter(name: string, ending: string): string {
  const whole = `${name}${ending}`;
  if (Buffer.byteLength(whole) <= MOST_BYTES) return whole;
  const digest = createHash('sha256').update(name).digest('hex').slice(0, 12);
  const tail = `-${digest}${ending}`;
  const room = MOST_BYTES - Buffer.byteLength(tail);
  let kept = '';
  for (const character of name) {
    if (Buffer.byteLength(kept + character) > room) break;
    kept += character;
  }
  return `${kept}${tail}`;
}
