import { describe, expect, it } from 'vitest';
import { cameraSchema } from '../../src/camera/description.js';
import { dialEnds } from '../../src/jobs/tune/dial-ends.js';
import { noCounts, scoreOf } from '../../src/score/score.js';
import type { Goal } from '../../src/tune/goal.js';
import { tuned } from '../report/example.js';

const controls = {
  sensitivity: { sets: 'threshold', from: 1, to: 5, step: 1, gives: [60, 12] },
  minimumArea: { sets: 'minimumArea', choices: [25, 50, 100] },
  mostChanged: { sets: 'mostChanged', choices: [5000, 76_800] },
  persistence: { sets: 'persistence', choices: [1, 2, 3] },
  cooldown: { sets: 'cooldown', choices: [1, 2, 5] },
};
const camera = cameraSchema.parse({
  version: 1,
  analysis: { width: 320, height: 240, rate: 5 },
  reference: { kind: 'previous', lag: 1 },
  shutterLag: 0.5,
  burst: { photos: 2, interval: 1 },
  controls,
});
const worth: Goal = { kind: 'worth', photos: 10, photosPerTrigger: 2 };
const score = (caught: number, falseTriggers: number) =>
  scoreOf({ ...noCounts, visits: 20, caught, trueTriggers: caught, falseTriggers, watchedSeconds: 3600 });

/** What bounds settings that catch 15 with 4 false triggers, with these notches around. */
const ends = (
  at: Record<string, number>,
  notches: [dial: string, position: number, caught: number, falsely: number][],
  goal: Goal = worth,
) =>
  dialEnds(
    {
      recommended: {
        ...tuned.recommended,
        controls: {
          sensitivity: 3,
          minimumArea: 50,
          mostChanged: 76_800,
          persistence: 2,
          cooldown: 2,
          ...at,
        },
        score: score(15, 4),
      },
      notches: notches.map(([dial, position, caught, falsely]) => ({
        dial,
        position,
        score: score(caught, falsely),
      })),
    },
    camera,
    goal,
  );

describe('the dials that bound a choice', () => {
  it('are those at either end where one notch back is worse', () => {
    expect(
      ends({ sensitivity: 5, minimumArea: 25 }, [
        ['sensitivity', 4, 14, 4],
        ['minimumArea', 50, 15, 5],
      ]),
    ).toEqual([
      { dial: 'sensitivity', position: 5, inward: 'worse' },
      { dial: 'minimumArea', position: 25, inward: 'worse' },
    ]);
  });

  it('are not those where one notch back is as good or better', () => {
    expect(ends({ minimumArea: 25 }, [['minimumArea', 50, 15, 4]])).toEqual([]);
    // A visit is worth ten photos, four false triggers less of two photos each are worth eight.
    expect(ends({ minimumArea: 25 }, [['minimumArea', 50, 14, 0]])).toEqual([
      { dial: 'minimumArea', position: 25, inward: 'worse' },
    ]);
    expect(ends({ minimumArea: 25 }, [['minimumArea', 50, 15, 0]])).toEqual([]);
  });

  it('are not those between their ends', () => {
    expect(
      ends({ minimumArea: 50 }, [
        ['minimumArea', 25, 10, 4],
        ['minimumArea', 100, 10, 4],
      ]),
    ).toEqual([]);
  });

  it('are unknown where the notch before the end was not tried', () => {
    expect(ends({ minimumArea: 25 }, [])).toEqual([{ dial: 'minimumArea', position: 25, inward: 'unknown' }]);
  });

  it('are judged by the allowance where there is one', () => {
    const allowance: Goal = { kind: 'allowance', falsePerHour: 6 };
    expect(ends({ minimumArea: 100 }, [['minimumArea', 50, 19, 7]], allowance)).toEqual([
      { dial: 'minimumArea', position: 100, inward: 'worse' },
    ]);
    expect(ends({ minimumArea: 100 }, [['minimumArea', 50, 16, 6]], allowance)).toEqual([]);
  });

  it('are not those whose values go no farther, or would change nothing', () => {
    expect(ends({ persistence: 1 }, [['persistence', 2, 10, 9]])).toEqual([]);
    expect(ends({ mostChanged: 76_800 }, [['mostChanged', 5000, 10, 9]])).toEqual([]);
    // Two photos a second apart, the first after half a second, take longer than its cooldown.
    expect(ends({ cooldown: 1 }, [['cooldown', 2, 10, 9]])).toEqual([]);
  });

  it('can be those that have farther to go upwards', () => {
    expect(
      ends({ persistence: 3, cooldown: 5 }, [
        ['persistence', 2, 10, 9],
        ['cooldown', 2, 10, 9],
      ]),
    ).toEqual([
      { dial: 'persistence', position: 3, inward: 'worse' },
      { dial: 'cooldown', position: 5, inward: 'worse' },
    ]);
  });
});
