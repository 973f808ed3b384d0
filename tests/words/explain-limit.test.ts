import { describe, expect, it } from 'vitest';
import { explainLimit, limitLine } from '../../src/words/explain-limit.js';
import { tuned } from '../report/example.js';

const limit = tuned.limit!;
const text = (rest: object = {}) => explainLimit({ worth: null, limit: { ...limit, ...rest } }).join('\n');

describe('the limit of use in words', () => {
  it('says the light, its range, and until when that is', () => {
    expect(text()).toMatch(/Of use down to about 5 lux \(90 %: 1\.3 to 10\), then blind: in simulated light/);
    expect(text()).toMatch(
      /On 2026-05-04 it is of use from 04:50 to 21:20 under a clear sky in the open, from 05:05 to 21:05 under thick cloud, and for less in shade \(clock of \+01:00\); then blind\./,
    );
    expect(text({ times: { ...limit.times, clear: 'all day', overcast: null } })).toMatch(
      /it is of use all day under a clear sky in the open, never under thick cloud/,
    );
  });

  it('goes by what visits are worth where settings are chosen so', () => {
    expect(explainLimit({ worth: { photos: 10 }, limit }).join()).toMatch(
      /no settings are worth half of what the best are/,
    );
    expect(text()).toMatch(/no settings that keep the allowance catch half of what the best catch/);
  });

  it('says what to write into clip.json where the time is not known', () => {
    expect(text({ times: null, missing: ['start', 'place', 'conditions.light'] })).toMatch(
      /Until when that is, .* start and place: write them in clip\.json \(start, place\), or on the page under "About this clip"\./,
    );
  });

  it('is of use in none, in every one, or too little to tell', () => {
    const none = { value: null, low: 10, high: null };
    expect(text({ lux: none })).toMatch(/In simulated light of 10 lux and less the camera is blind/);
    expect(text({ tells: 'no limit', lux: { value: 1.25, low: null, high: 1.25 } })).toMatch(
      /Of use down to 1\.3 lux at least, simulated: no less was tried\./,
    );
    expect(text({ tells: 'too little', visits: 3, inFullLight: 3 })).toMatch(
      /too little to tell: the stretch .* holds 3 visits/,
    );
  });

  it('has a range that says what it leaves out, and how far it goes beyond what was tried', () => {
    expect(text()).toMatch(/The range is by the number of visits alone: the light was drawn once/);
    expect(text({ lux: { value: 5, low: null, high: null } })).toMatch(
      /\(90 %: less than 1\.3 to more than was tried\)/,
    );
    expect(text({ lux: { value: null, low: null, high: null } })).toMatch(/perhaps in none of them/);
    expect(text({ lux: { value: null, low: 2.5, high: null } })).toMatch(/perhaps only from 2\.5 lux down/);
  });

  it('gives each reason why too little is told its own words', () => {
    const few = { tells: 'too little', visits: 8, inFullLight: 3 };
    expect(text(few)).toMatch(/of the 8 visits in the stretch of a .* catch 3 as recorded, and it takes 4/);
    expect(text({ ...few, inFullLight: 0, levels: [], fullLight: 0.2 })).toMatch(
      /a was recorded in 0\.2 lux, too dark to take light from/,
    );
    expect(text({ ...few, visits: 7 })).toMatch(/holds 7 visits, and it takes 8\./);
    expect(text({ ...few, visits: 7, inWhole: 9 })).toMatch(
      /holds 7 visits of 9, and it takes 8\. All of the clip takes longer: it is looked through where coming days are planned\./,
    );
  });

  it('says which clip it is of where several sites are tuned together', () => {
    expect(text({ leftOut: ['b', 'c'] })).toMatch(/This is of a alone, not of b, c\./);
    expect(text()).not.toMatch(/alone, not of/);
  });

  it('is a line on the card where there is a limit', () => {
    expect(limitLine(tuned)).toMatch(/^Blind below about 5 lux \(simulated\)\. On 2026-05-04/);
    expect(limitLine({ limit: { ...limit, times: null } })).toBe('Blind below about 5 lux (simulated).');
    expect(limitLine({ limit: { ...limit, tells: 'too little' } })).toBeNull();
    expect(limitLine({ limit: null })).toBeNull();
    expect(explainLimit({ worth: null, limit: null })).toEqual([]);
  });
});
