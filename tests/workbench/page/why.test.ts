import { expect, it } from 'vitest';
import { causeTold } from '../../../src/score/cause-told.js';
import type { Labels } from '../../../src/score/labels.js';
import { withCause } from '../../../src/workbench/page/views/why/corrections.js';
import { momentName, momentsOf } from '../../../src/workbench/page/views/why/moments.js';

const bare: Labels = { version: 1, visits: [] };
const windy: Labels = { ...bare, causes: [{ start: 0, end: 60, cause: 'wind' }] };

it('what is said of a moment counts there, and takes nothing from what was said of the time around it', () => {
  const said = withCause(windy, 20, 'shadow', 60);
  expect(causeTold(said.causes, 20)).toBe('shadow');
  expect(causeTold(said.causes, 22)).toBe('wind');
});

it('said anew it replaces what was said, and taken back nothing is left of it', () => {
  const said = withCause(withCause(bare, 20, 'shadow', 60), 20, 'rain', 60);
  expect(said.causes).toEqual([{ start: 19.5, end: 20.5, cause: 'rain' }]);
  expect(withCause(said, 20, null, 60)).toEqual(bare);
});

it('it stays within the clip', () => {
  expect(withCause(bare, 0.2, 'rain', 60).causes).toEqual([{ start: 0, end: 0.7, cause: 'rain' }]);
  expect(withCause(bare, 59.8, 'rain', 60).causes?.[0]?.end).toBe(60);
});

it('moments are triggers at nothing and missed visits in order of time, and nothing else', () => {
  const trigger = (time: number, verdict: 'true' | 'false' | 'ignored') => ({
    time,
    photos: [time],
    verdict,
    visit: null,
  });
  const moments = momentsOf({
    triggers: [trigger(5, 'true'), trigger(9.2, 'false'), trigger(11, 'ignored')],
    visits: [
      { start: 4, end: 6, caught: true },
      { start: 7, end: 8, name: 'wren', caught: false },
    ],
  });
  expect(moments.map(momentName)).toEqual(['0:07-0:08: wren missed', '0:09.2: fired at nothing']);
});
