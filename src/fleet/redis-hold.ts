import { randomUUID } from 'node:crypto';
import type { Redis } from 'ioredis';
import type { Hold } from './queue.js';

/** Only the holder lets go, or holds on. */
const RELEASE =
  "if redis.call('get', KEYS[1]) == ARGV[1] then return redis.call('del', KEYS[1]) end return 0";
const PROLONG =
  "if redis.call('get', KEYS[1]) == ARGV[1] then return redis.call('pexpire', KEYS[1], ARGV[2]) end return 0";

/** Asks the server, and throws what it refuses as a Problem. */
export type Asked = <T>(act: () => Promise<T>) => Promise<T>;

/**
 * Locks several keys, each for a lease, with a token that only the holder knows; all of them or none. They are taken in the order
 * of their names, so that two that want some of the same never wait for each other.
 * @param leaseMs milliseconds until a lock that is not prolonged lapses
 * @returns null where somebody else holds one of them
 */
export async function holdOnRedis(
  client: Redis,
  keys: readonly string[],
  leaseMs: number,
  asked: Asked,
): Promise<Hold | null> {
  const token = randomUUID();
  const mine: string[] = [];
  const release = () =>
    asked(async () => {
      for (const key of mine) await client.eval(RELEASE, 1, key, token);
    });
  for (const key of [...new Set(keys)].sort()) {
    if ((await asked(() => client.set(key, token, 'PX', leaseMs, 'NX'))) === null) {
      await release();
      return null;
    }
    mine.push(key);
  }
  return {
    release,
    beat: () =>
      asked(async () => {
        for (const key of mine) {
          if ((await client.eval(PROLONG, 1, key, token, leaseMs)) === 0) return false;
        }
        return true;
      }),
  };
}
