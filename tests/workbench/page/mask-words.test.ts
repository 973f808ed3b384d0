import { expect, it } from 'vitest';
import type { MaskingTold } from '../../../src/workbench/diagnosis-protocol.js';
import { inWords } from '../../../src/workbench/page/views/mask/in-words.js';

const side = (falseTriggers: number, ...caught: boolean[]) => ({
  score: { falseTriggers },
  visits: caught.map((one) => ({ caught: one })),
});
const words = (without: object, withIt: object) =>
  inWords({ without, withIt } as unknown as MaskingTold, true);

it.each([
  ['3 false triggers gone, 1 visit lost', side(6, true, true), side(3, true, false)],
  ['1 false trigger more, 0 visits lost, 1 visit gained', side(1, false), side(2, true)],
  [
    'It changes nothing here: draw it over the marks of where it fired falsely.',
    side(6, true),
    side(6, true),
  ],
  ['0 false triggers gone, 0 visits lost', side(0, true), side(0, true)],
])('a mask is told of: %s', (said, without, withIt) => expect(words(without, withIt)).toBe(said));
