/** What may be removed at any time to make room, by the names of its folders: it is made again where it is needed. */
export const REMOVABLE = {
  evidence: 'how much changed in each frame',
  boxes: 'the same within boxes of visits',
  looks: 'what photos of nothing were looked at',
  masks: 'masks that were tried',
  pieces: 'where pictures changed',
  sway: 'how what sways moves',
  answers: 'what a fleet found site by site',
  thumbnails: 'small pictures of an evening',
  scenes: 'demo clips, drawn',
  content: 'check sums of recordings',
  stamps: 'times of stills',
  probe: 'times of video frames',
} as const;

export type Kind = keyof typeof REMOVABLE;
export const kinds = Object.keys(REMOVABLE) as Kind[];

/** Kinds whose entries lie a folder deeper, under a version of their layout. */
const VERSIONED: readonly string[] = ['probe'];

/** How many names lead from the cache's folder to an entry of a kind: what is used, and removed, as one. */
export function depthOf(kind: string): number {
  return VERSIONED.includes(kind) ? 3 : 2;
}
