import type { SiteResult } from '../jobs/tune.js';

/** What a site is called: its name, or else its clips. */
export function siteName({ site, clips }: Pick<SiteResult, 'site' | 'clips'>): string {
  return site ?? (clips.length === 1 ? clips[0]! : 'no site named');
}
