import type { Seen } from '../../../../outing/evening/photo.js';

export type Seens = ReadonlyMap<string, Seen>;

/**
 * Marks of two people who began from the same: what was changed here goes before, all else is as it stands in the file.
 * @param base what both began from
 */
export function merged(base: Seens, mine: Seens, theirs: Seens): Map<string, Seen> {
  const result = new Map(theirs);
  for (const photo of new Set([...base.keys(), ...mine.keys()])) {
    const now = mine.get(photo);
    if (now === base.get(photo)) continue;
    if (now === undefined) result.delete(photo);
    else result.set(photo, now);
  }
  return result;
}

export function sameSeens(one: Seens, other: Seens): boolean {
  return one.size === other.size && [...one].every(([photo, seen]) => other.get(photo) === seen);
}
