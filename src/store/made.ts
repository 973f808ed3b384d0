import type { Made } from '../files/output.js';
import type { Cache } from './cache.js';
import { jsonKey } from './key.js';
import { readSealed, writeSealed } from './sealed.js';

/**
 * Remembers what was written where, in the cache: the last two contents of each file, by their digests, for the older one
 * is still there where the newer was noted but not yet written.
 */
export function madeIn(cache: Cache): Made {
  const entryOf = (file: string) => ['made', jsonKey(file)];
  const digestsOf = async (file: string) =>
    (await readSealed(cache, entryOf(file)))?.toString('latin1').split('\n') ?? [];
  return {
    async knows(file, digest) {
      return (await digestsOf(file)).includes(digest);
    },
    async note(file, digest) {
      const last = (await digestsOf(file)).filter((other) => other !== digest).slice(0, 1);
      await writeSealed(cache, entryOf(file), Buffer.from([digest, ...last].join('\n'), 'latin1'));
    },
  };
}
