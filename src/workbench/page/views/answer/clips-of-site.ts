import type { ClipListed } from '../../../protocol.js';

const UNLABELLED = 'not labelled yet';

/** Clips that hang together: those of one site, or all that name none. */
export interface SiteClips {
  site: string | null;
  /** Labelled ones, which can be learnt from. */
  labelled: ClipListed[];
  /** The others, and why they do not count. */
  left: { id: string; name: string; why: string }[];
}

/**
 * The folder's clips by site, in the order in which sites first come.
 * @param drawn whether they are the demo's, whose labels come with the drawing and are not listed before
 */
export function clipsBySite(clips: readonly ClipListed[], drawn: boolean): SiteClips[] {
  const sites = new Map<string | null, SiteClips>();
  for (const clip of clips) {
    const group = sites.get(clip.site) ?? { site: clip.site, labelled: [], left: [] };
    sites.set(clip.site, group);
    if (clip.problem !== null) group.left.push({ id: clip.id, name: clip.name, why: 'cannot be opened' });
    else if (clip.visits === null && !drawn)
      group.left.push({ id: clip.id, name: clip.name, why: UNLABELLED });
    else group.labelled.push(clip);
  }
  return [...sites.values()];
}

/** The first of a site's clips that nobody has labelled, by its id. */
export function toLabel({ left }: SiteClips): string | undefined {
  return left.find(({ why }) => why === UNLABELLED)?.id;
}
