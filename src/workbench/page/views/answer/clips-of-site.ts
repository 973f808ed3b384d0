import type { ClipListed } from '../../../protocol.js';

/** Clips that hang together: those of one site, or all that name none. */
export interface SiteClips {
  site: string | null;
  /** Labelled ones, which can be learnt from. */
  labelled: ClipListed[];
  /** The others, and why they do not count. */
  left: { name: string; why: string }[];
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
    if (clip.problem !== null) group.left.push({ name: clip.name, why: 'cannot be opened' });
    else if (clip.visits === null && !drawn) group.left.push({ name: clip.name, why: 'not labelled yet' });
    else group.labelled.push(clip);
  }
  return [...sites.values()];
}
