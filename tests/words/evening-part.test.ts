import { expect, it } from 'vitest';
import { dayPartText } from '../../src/words/evening-wording.js';

it('says on which day a stretch over midnight ends', () => {
  const at = (text: string) => Date.parse(text) / 1000;
  const part = (from: string, until: string) => dayPartText({ from: at(from), until: at(until) });
  const night = part('2027-05-04T22:00:00Z', '2027-05-05T05:00:00Z');
  expect(night).toMatch(/^Tue 4 May 22:00-Wed 5 May 05:00$/);
  expect(part('2027-05-04T06:00:00Z', '2027-05-04T09:00:00Z')).toMatch(/^Tue 4 May 06:00-09:00$/);
});
