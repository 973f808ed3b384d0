import fc from 'fast-check';
import { expect, it } from 'vitest';
import { matchesWildcard } from '../../src/clip/wildcard.js';

const matches = (pattern: string, name: string) => matchesWildcard([...pattern], [...name]);

it('matches what the same pattern as a regular expression does', () => {
  const text = (letters: string[]) => fc.string({ unit: fc.constantFrom(...letters), maxLength: 8 });
  fc.assert(
    fc.property(text(['*', '?', 'a', 'b', '🐦']), text(['a', 'b', '🐦', '*']), (pattern, name) => {
      const source = pattern.replaceAll('*', '.*').replaceAll('?', '.');
      expect(matches(pattern, name)).toBe(new RegExp(`^${source}$`, 'su').test(name));
    }),
    { seed: 1, numRuns: 5000 },
  );
});

it('comes to an end on many stars against a long name', () => {
  expect(matches(`${'*a'.repeat(120)}*b`, 'a'.repeat(250))).toBe(false);
});
