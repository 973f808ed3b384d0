/**
 * Tags as Camtrap DP has them in one cell: parted by |, each a word or key:value. What this program keeps in them for itself is
 * spelled so that no value can part a tag: %, | and what acts or would be trimmed stand as in addresses of the web, %7C.
 */

// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
const SPELLED = /[%|\x00-\x1f\x7f]/g;

export function tagsText(tags: readonly (readonly [key: string, value: string | number])[]): string {
  return tags.map(([key, value]) => `${key}:${spelled(String(value))}`).join('|');
}

/** Keys with their values as they are written; a key that stands twice has its last, a word without a value has none. */
export function tagsIn(cell: string): Map<string, string> {
  const tags = cell.split('|').map((tag): [string, string] => {
    const colon = tag.indexOf(':');
    return colon < 0 ? [tag.trim(), ''] : [tag.slice(0, colon).trim(), tag.slice(colon + 1).trim()];
  });
  return new Map(tags);
}

function spelled(value: string): string {
  const end = value.trimEnd();
  const text = end.trimStart();
  const before = end.slice(0, end.length - text.length);
  const after = value.slice(end.length);
  const inner = text.replace(SPELLED, (found) => encodeURIComponent(found));
  return `${encodeURIComponent(before)}${inner}${encodeURIComponent(after)}`;
}

/** What `tagsText` was given for a value; text that was not written by it as it stands. */
export function unspelled(value: string): string {
  return value.replace(/(?:%[0-9A-F]{2})+/g, (found) => {
    try {
      return decodeURIComponent(found);
    } catch {
      return found;
    }
  });
}
