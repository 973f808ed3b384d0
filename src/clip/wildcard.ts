/**
 * Whether a name matches a pattern in which * stands for any characters or none and ? for any one. It goes back to the
 * last * only, never to one before: whatever that one could take, the last can take too. So it takes at most as many steps
 * as the name has characters times those of the pattern.
 */
export function matchesWildcard(pattern: readonly string[], name: readonly string[]): boolean {
  let p = 0;
  let n = 0;
  let star = -1;
  let taken = 0;
  while (n < name.length) {
    if (pattern[p] === '*') {
      star = p++;
      taken = n;
    } else if (p < pattern.length && (pattern[p] === '?' || pattern[p] === name[n])) {
      p++;
      n++;
    } else if (star >= 0) {
      // The last * takes one character more.
      p = star + 1;
      n = ++taken;
    } else {
      return false;
    }
  }
  while (pattern[p] === '*') p++;
  return p === pattern.length;
}
