/** Characters of a file's name that a site may give it; file systems take 255 bytes. */
const LONGEST = 60;

/** A name as a part of file names: lower case, ASCII letters, digits and dashes; empty where nothing is left of it. */
export function stemOf(name: string): string {
  return name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, LONGEST)
    .replace(/^-|-$/g, '');
}

/**
 * A stem of its own for each name, such that none of the file names made from one of them is made from another: -2, -3 and so
 * on follow where they would be.
 * @param otherwise for names of which nothing is left, and for null
 * @param endings what file names add to a stem
 */
export function ownStems(
  names: readonly (string | null)[],
  otherwise: string,
  endings: readonly string[],
): string[] {
  const taken = new Set<string>();
  return names.map((name) => {
    const wanted = stemOf(name ?? '') || otherwise;
    let stem = wanted;
    for (let n = 2; endings.some((ending) => taken.has(stem + ending)); n++) stem = `${wanted}-${n}`;
    for (const ending of endings) taken.add(stem + ending);
    return stem;
  });
}
