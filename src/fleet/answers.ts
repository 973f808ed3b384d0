import type { SiteResult } from '../jobs/tune.js';
import type { Cache } from '../store/cache.js';
import { readSealed, writeSealed } from '../store/sealed.js';

/** What tuning a site found, as its document has it: kept under the job's key, for the job that puts sites together. */
export async function keepAnswer(cache: Cache, key: string, site: SiteResult): Promise<void> {
  await writeSealed(cache, ['answers', key], Buffer.from(JSON.stringify(site)));
}

/** Null where it is not kept, or not whole. */
export async function readAnswer(cache: Cache, key: string): Promise<SiteResult | null> {
  const bytes = await readSealed(cache, ['answers', key]);
  return bytes && (JSON.parse(bytes.toString()) as SiteResult);
}
