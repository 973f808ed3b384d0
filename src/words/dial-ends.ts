import type { SiteResult } from '../jobs/tune.js';
import { siteName } from './site-name.js';

/**
 * That what is recommended stands where a dial ends, in one line for all sites that can be told of; null where no dial bounds it.
 * With several sites, told of or not, each dial is followed by those where it does.
 */
export function endsText(
  sites: readonly Pick<SiteResult, 'site' | 'clips' | 'tells' | 'ends'>[],
): string | null {
  const told = sites.filter(({ tells }) => tells !== 'too little');
  const where = new Map<string, string[]>();
  for (const site of told) {
    for (const { dial, position } of site.ends) {
      const end = `${dial} ${position}`;
      where.set(end, [...(where.get(end) ?? []), siteName(site)]);
    }
  }
  if (where.size === 0) return null;
  const ends = [...where].map(([end, names]) => (sites.length > 1 ? `${end} (${names.join(', ')})` : end));
  const dials = ends.length > 1 ? `The dials end at ${ends.slice(0, -1).join(', ')} and` : 'The dial ends at';
  return `${dials} ${ends.at(-1)}: whether going further would be better is not known. If your camera can, let ${ends.length > 1 ? 'them' : 'it'} go further in camera.json (on the page in Camera), and try again.`;
}
