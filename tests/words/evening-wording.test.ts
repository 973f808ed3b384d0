import { describe, expect, it } from 'vitest';
import type { EveningResult } from '../../src/jobs/evening.js';
import {
  countsText,
  hoursText,
  nextText,
  spanText,
  verdictHeading,
  verdictText,
} from '../../src/words/evening-wording.js';

const at = (day: number, hour: number, minute = 0) => Date.UTC(2026, 4, day, hour, minute) / 1000;
const promised = {
  kind: 'tune' as const,
  site: null,
  withheld: null,
  photosPerTrigger: 1,
  nothingPerHour: { value: 6, low: 2, high: 11 },
  came: { value: 25, low: 20, high: 31, n: 100, bouts: { low: 18, high: 36, n: 40 } },
  hours: 4,
  hoursWithout: 0,
  hoursToTell: null,
  untold: 0,
};
const evening: EveningResult = {
  folder: 'DCIM',
  all: [],
  photos: 412,
  animal: 31,
  nothing: 377,
  person: 4,
  unmarked: 0,
  precision: null,
  withoutTime: 0,
  outside: 0,
  out: { from: at(9, 6), until: at(9, 10), said: { from: true, until: true }, hours: 4 },
  nothingPerHour: null,
  byHour: [],
  byStretch: null,
  byCondition: null,
  promised,
  verdict: 'worse',
  next: null,
  assumed: [],
  notes: [],
};

describe('an evening in words', () => {
  it('counts, and says nothing of what is none', () => {
    expect(countsText(evening)).toBe('412 photos: 31 of animals, 377 of nothing, 4 of people');
    expect(countsText({ ...evening, person: 0, unmarked: 1 })).toBe(
      '412 photos: 31 of animals, 377 of nothing, 1 not marked',
    );
    expect(countsText({ ...evening, animal: 0, nothing: 0, person: 0, unmarked: 412 })).toBe('412 photos');
  });

  it.each([
    [
      'held',
      'As promised',
      /^25 \(18–36\) photos of nothing an hour, where 6 \(2–11\) were promised, over 4 hours\.$/,
    ],
    ['worse', 'Worse than promised', /so many would come at most once in twenty\.$/],
    ['better', 'Better than promised', /so few would come at most once in twenty\.$/],
    [
      'too little to tell',
      'Too little to tell whether it was as promised',
      /a month out would hardly tell\.$/,
    ],
  ] as const)('says what a verdict rests on: %s', (verdict, heading, text) => {
    expect(verdictHeading({ ...evening, verdict })).toBe(heading);
    expect(verdictText({ ...evening, verdict })).toMatch(text);
  });

  it.each([
    [{ untold: 3 }, 3, /It turns on 3 photos .* mark those that are not marked\.$/],
    [{ untold: 1 }, 0, /It turns on 1 photo .* time is not known\.$/],
    [{ hoursToTell: 9 }, 0, /Were it as promised, some 9 hours out would tell; these were 4 hours\.$/],
    [{ hoursToTell: 2 }, 0, /another evening tells more\.$/],
  ])('says what would tell, where it is too little: %j', (more, unmarked, text) => {
    const told = {
      ...evening,
      verdict: 'too little to tell' as const,
      unmarked,
      promised: { ...promised, ...more },
    };
    expect(verdictText(told)).toMatch(text);
  });

  it('says where nothing was promised', () => {
    expect(verdictText({ ...evening, promised: { ...promised, nothingPerHour: null } })).toBe(
      'Nothing was promised for the hours that the camera was out.',
    );
    expect(verdictText({ ...evening, promised: null, verdict: null })).toMatch(/^Without a promise/);
  });

  it('names the hour to record, and why', () => {
    const next = { from: at(9, 13), until: at(9, 14), conditions: null, why: 'most of nothing' as const };
    expect(nextText({ ...evening, next })).toMatch(
      /^Record next between 13:00 and 14:00: most photos of nothing an hour came then\./,
    );
    expect(nextText(evening)).toBeNull();
  });

  it('names stretches of a plan by day, time and weather', () => {
    const next = {
      from: at(9, 13),
      until: at(9, 17, 30),
      conditions: ['rain', 'wind'],
      why: 'least told' as const,
    };
    expect(nextText({ ...evening, byStretch: [], next })).toMatch(
      /^Record next what was like Sat 9 May 2026, 13:00-17:30 \(rain, wind\): the promise says least of it\./,
    );
    expect(spanText({ from: at(9, 20), until: at(10, 6) })).toBe(
      'Sat 9 May 2026, 20:00 to Sun 10 May 2026, 06:00',
    );
  });

  it.each([
    [0.2, '12 minutes'],
    [0.001, '1 minute'],
    [1, '1 hour'],
    [12.34, '12 hours'],
  ])('tells %d hours', (hours, text) => expect(hoursText(hours)).toBe(text));
});
