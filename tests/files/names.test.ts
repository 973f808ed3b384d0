import { expect, it } from 'vitest';
import { nameAfter } from '../../src/files/names.js';

it('adds the ending where that fits into a name', () => {
  expect(nameAfter('suite', '.accepted.json')).toBe('suite.accepted.json');
  expect(nameAfter('s'.repeat(241), '.accepted.json')).toBe(`${'s'.repeat(241)}.accepted.json`);
});

it.each(['s'.repeat(250), '🐦'.repeat(63), 'é'.repeat(127)])(
  'cuts what does not fit, in bytes: %s',
  (name) => {
    const made = nameAfter(name, '.accepted.json');
    expect(Buffer.byteLength(made)).toBeLessThanOrEqual(255);
    expect(made).toMatch(/-[0-9a-f]{12}\.accepted\.json$/);
    expect(name.startsWith(made.slice(0, 40))).toBe(true);
    expect(nameAfter(`${name}x`, '.accepted.json')).not.toBe(made);
  },
);
