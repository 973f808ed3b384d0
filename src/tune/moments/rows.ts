import type { Moment } from './find.js';

/** Moments that are looked at and ticked together. */
export interface Row {
  /** Places in the list of moments, rising. */
  members: number[];
  /** How large what changed was: the whole logarithm to base 4 of the pixels that count in the largest peak. */
  sizeClass: number;
}

/** Up to so many moments stand by themselves; more are put into rows. */
const ALONE = 100;
/** All members of a row are shown as pictures. */
const MOST_MEMBERS = 6;
/** Seconds from the first to the last of a row. */
const WITHIN = 120;

/**
 * Puts moments into rows: each by itself while there are few; else those alike in size that follow one another, at most
 * six within two minutes, for a gusty hour has hundreds of them.
 */
export function rowsOf(moments: readonly Moment[]): Row[] {
  const most = Math.min(MOST_MEMBERS, Math.ceil(moments.length / ALONE));
  const rows: Row[] = [];
  moments.forEach((moment, place) => {
    const sizeClass = sizeClassOf(moment);
    const last = rows.at(-1);
    const first = last && moments[last.members[0]!];
    const joins =
      last?.sizeClass === sizeClass &&
      last.members.length < most &&
      first !== undefined &&
      moment.end - first.start <= WITHIN;
    if (joins) last.members.push(place);
    else rows.push({ members: [place], sizeClass });
  });
  return rows;
}

/** What counted at the lowest level in the peak frame, in powers of four pixels. */
function sizeClassOf({ sizes }: Pick<Moment, 'sizes'>): number {
  return Math.floor(Math.log2(Math.max(1, sizes[0] ?? 1)) / 2);
}
