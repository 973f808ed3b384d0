import { createHash } from 'node:crypto';
import type { Made } from '../files/output.js';
import type { Cache } from './cache.js';
import { readSealed, writeSealed } from './sealed.js';

/** Remembers what was written where, in the cache: the last content of each file, by its digest. */
export function madeIn(cache: Cache): Made {
  const entry = (file: string) => ['made', createHash('sha256').update(file).digest('hex')];
  return {
    async knows(file, digest) {
      return (await readSealed(cache, entry(file)))?.toString('latin1') === digest;
    },
    async note(file, digest) {
      await writeSealed(cache, entry(file), Buffer.from(digest, 'latin1'));
    },
  };
}
