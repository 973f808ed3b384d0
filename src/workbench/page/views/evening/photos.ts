import type { Placed } from '../bring-in/dropped.js';
import type { Sent } from '../bring-in/send.js';

const PHOTO = /\.(jpe?g|png)$/i;

/** One for all: made anew for each pair of names it takes seconds over a day's photos. */
const byNumber = new Intl.Collator('en', { numeric: true });

/**
 * The photos among files that were chosen or dropped, each with a name of its own in one folder: what lay in folders of the
 * card is called after them, 100/IMG_1.JPG becomes 100-IMG_1.JPG. In order of their names.
 */
export function photosAmong(files: readonly Placed[]): Sent[] {
  const taken = new Set<string>();
  const sorted = [...files].sort((a, b) => byNumber.compare(a.path, b.path));
  return sorted.flatMap(({ file, path }) => {
    const parts = path.split('/');
    if (!PHOTO.test(path) || parts.some((part) => part.startsWith('.'))) return [];
    const plain = parts.join('-');
    let name = plain;
    for (let i = 2; taken.has(name); i++) name = `${i}-${plain}`;
    taken.add(name);
    return [{ file, name }];
  });
}
