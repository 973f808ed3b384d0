import type { Standing } from './queue.js';
import type { Run, Trouble } from './run.js';

/** What is wrong with clips of a run, and which of its jobs failed. What cannot be read can neither be tuned: said once. */
export function troublesIn({ jobs }: Run, standings: ReadonlyMap<string, Standing>): Trouble[] {
  const seen = new Set<string>();
  return jobs.flatMap(({ key, kind, clips }) => {
    const { outcome = null, why = null } = standings.get(key) ?? {};
    const message = why ?? outcome?.bad ?? null;
    if (kind === 'write' || message === null || seen.has(message)) return [];
    seen.add(message);
    return [{ clips, message }];
  });
}
