import { keyOf } from '../store/key.js';
import type { Address } from './address.js';
import { type OpenOptions, openOnRedis } from './on-redis.js';
import type { Program } from './program.js';
import type { Queue } from './queue.js';

/** Seconds after which a job goes to another where its worker is not heard of. */
export const USUAL_LEASE = 60;

/** The queue of a fleet for one program: workers of another never see its jobs. */
export function openQueue(
  address: Address,
  fleet: string,
  program: Program,
  { leaseMs = USUAL_LEASE * 1000, onWarning }: Partial<OpenOptions> & Pick<OpenOptions, 'onWarning'>,
): Promise<Queue> {
  const name = `perchmark-${fleet}-${keyOf(program).slice(0, 8)}`;
  return openOnRedis(address, name, { leaseMs, onWarning });
}
