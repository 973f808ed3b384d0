import { expect, it } from 'vitest';
import type { MaskingTold } from '../../../src/workbench/diagnosis-protocol.js';
import { inWords } from '../../../src/workbench/page/views/mask/in-words.js';
import { visitsChanged } from '../../../src/workbench/page/views/mask/visits-changed.js';

const side = (falseTriggers: number, ...caught: boolean[]) => ({
  score: { falseTriggers },
  visits: caught.map((one) => ({ caught: one })),
});
const words = (without: object, withIt: object) =>
  inWords({ without, withIt } as unknown as MaskingTold, true, 2);

it.each([
  [
    'fires at nothing 3 times (6 photos) instead of 6, 1 visit lost',
    side(6, true, true),
    side(3, true, false),
  ],
  [
    'fires at nothing 2 times (4 photos) instead of 1, 0 visits lost, 1 visit gained',
    side(1, false),
    side(2, true),
  ],
  [
    'It changes nothing here: draw it over the marks of where it fired falsely.',
    side(6, true),
    side(6, true),
  ],
  ['fires at nothing as often, 0 visits lost', side(0, true), side(0, true)],
])('a mask is told of: %s', (said, without, withIt) => expect(words(without, withIt)).toBe(said));

it('the visits that a mask costs and brings are named', () => {
  const came = (start: number, caught: boolean, name?: string) => ({ start, end: start + 1, name, caught });
  const without = { visits: [came(1, true, 'wren'), came(5, true), came(9, false, 'starling')] };
  const withIt = { visits: [came(1, true, 'wren'), came(5, false), came(9, true, 'starling')] };
  expect(visitsChanged({ without, withIt } as unknown as MaskingTold)).toEqual({
    lost: [{ start: 5, name: 'visit' }],
    gained: [{ start: 9, name: 'starling' }],
  });
});
