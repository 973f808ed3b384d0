import { describe, expect, it } from 'vitest';
import type { Labels } from '../../src/score/labels.js';
import { judgeAll } from '../../src/score/replayed.js';
import { addCounts, noCounts, scoreOf } from '../../src/score/score.js';
import { truthOf } from '../../src/score/truth.js';

const animal = (start: number, end: number) => ({ start, end, type: 'animal' as const });
const labels = (rest: Partial<Labels>): Labels => ({ version: 1, visits: [], ...rest });
/** One photo, 0.8 s after the trigger. */
const photo = (time: number) => [time + 0.8];
const verdicts = (l: Labels, seconds: number, times: number[], photos = photo) =>
  judgeAll(times, photos, truthOf(l, seconds)).triggers.map((t) => t.verdict);

describe('a verdict', () => {
  it('is true when a photo falls in an animal visit, whose ends count', () => {
    const l = labels({ visits: [animal(10, 20)] });
    expect(verdicts(l, 60, [9, 9.2, 19.2, 19.3])).toEqual(['false', 'true', 'true', 'false']);
  });

  it('compares times within 1e-9 s', () => {
    const l = labels({ visits: [animal(10, 20)] });
    expect(verdicts(l, 60, [9.2 - 5e-10, 9.2 - 5e-9])).toEqual(['true', 'false']);
  });

  it('goes to the earliest-starting visit, however the file orders them', () => {
    const l = labels({ visits: [animal(12, 30), animal(10, 30)] });
    const { triggers, visits } = judgeAll([15], photo, truthOf(l, 60));
    expect(triggers[0]?.visit).toBe(0);
    expect(visits.map((v) => [v.start, v.caught])).toEqual([
      [10, true],
      [12, true],
    ]);
  });

  it('is ignored when its time or a photo falls in time set aside, in a visit of another type, or unreviewed', () => {
    expect(verdicts(labels({ ignored: [{ start: 0, end: 30 }] }), 60, [30, 30.1])).toEqual([
      'ignored',
      'false',
    ]);
    expect(verdicts(labels({ ignored: [{ start: 30.5, end: 40 }] }), 60, [30])).toEqual(['ignored']);
    expect(verdicts(labels({ visits: [{ start: 5, end: 9, type: 'human' }] }), 60, [6])).toEqual(['ignored']);
    expect(verdicts(labels({ reviewed: [{ start: 0, end: 30 }] }), 60, [29, 29.5])).toEqual([
      'false',
      'ignored',
    ]);
  });

  it('is ignored when its first photo comes after the end of the clip, but not when only a later one does', () => {
    const burst = (time: number) => [time + 0.8, time + 1.8];
    expect(verdicts(labels({}), 60, [58.5, 59.2, 59.3], burst)).toEqual(['false', 'false', 'ignored']);
  });

  it('is true before it is ignored: an animal in a photo counts wherever it is', () => {
    const l = labels({ visits: [animal(10, 20)], ignored: [{ start: 0, end: 30 }] });
    expect(verdicts(l, 60, [12])).toEqual(['true']);
  });

  it('is null without labels', () => {
    const judged = judgeAll([1, 2], photo, null);
    expect(judged.triggers.map((t) => [t.verdict, t.visit])).toEqual([
      [null, null],
      [null, null],
    ]);
    expect(judged.counts).toBeNull();
  });
});

describe('watched time', () => {
  it('is the clip outside visits of any type, time set aside and time unreviewed, overlaps counted once', () => {
    const l = labels({
      reviewed: [{ start: 0, end: 90 }],
      visits: [animal(10, 20), animal(15, 25), { start: 30, end: 40, type: 'vehicle' }],
      ignored: [{ start: 0, end: 12 }],
    });
    // 100 s less 0-25, 30-40 and 90-100
    expect(truthOf(l, 100).watchedSeconds).toBeCloseTo(55, 9);
  });
});

describe('a score', () => {
  it('counts a visit once however many photos show it, and both visits that one photo shows', () => {
    const l = labels({ visits: [animal(10, 30), animal(20, 30)] });
    const { counts } = judgeAll([12, 22, 24], photo, truthOf(l, 60));
    expect(counts).toMatchObject({ visits: 2, caught: 2, trueTriggers: 3, falseTriggers: 0 });
  });

  it('has null, never 0 or 1, where nothing stands under a ratio', () => {
    expect(scoreOf(noCounts)).toMatchObject({ precision: null, recall: null, falsePerHour: null });
  });

  it('has intervals by bouts for shares and rates of triggers, not of visits', () => {
    const l = labels({ visits: [animal(10, 20)] });
    const { counts } = judgeAll([12, 15, 100, 102, 104, 300], photo, truthOf(l, 600));
    const score = scoreOf(counts ?? noCounts);
    // One bout of two true triggers; one of three false ones, and one of one.
    expect(score.precision?.bouts?.n).toBe(3);
    expect(score.falsePerHour?.bouts?.n).toBe(2);
    expect(score.recall).not.toHaveProperty('bouts');
  });

  it('adds up over clips by counts, not by averaging ratios', () => {
    const one = {
      ...noCounts,
      visits: 2,
      caught: 2,
      trueTriggers: 2,
      falseTriggers: 0,
      ignoredTriggers: 1,
      watchedSeconds: 1800,
    };
    const two = {
      ...noCounts,
      visits: 8,
      caught: 2,
      trueTriggers: 3,
      falseTriggers: 5,
      ignoredTriggers: 0,
      watchedSeconds: 1800,
    };
    const score = scoreOf(addCounts([one, two]));
    expect(score.recall?.value).toBeCloseTo(0.4, 12);
    expect(score.precision?.value).toBeCloseTo(0.5, 12);
    expect(score.falsePerHour?.value).toBeCloseTo(5, 12);
  });
});
