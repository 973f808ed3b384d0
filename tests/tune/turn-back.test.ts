import { expect, it } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import { truthOf } from '../../src/score/truth.js';
import { SweepCounts } from '../../src/sweep/counts.js';
import { Grid } from '../../src/sweep/grid.js';
import { turnedBack } from '../../src/tune/turn-back.js';

it('turns back the dials that change nothing on any of the footage, and no others', () => {
  const grid = new Grid({
    ...defaultCamera,
    controls: {
      sensitivity: { sets: 'threshold', choices: [60, 30] },
      mostChanged: { sets: 'mostChanged', choices: [5000, 20_000] },
      minimumArea: { sets: 'minimumArea', choices: [50] },
      cooldown: { sets: 'cooldown', choices: [5] },
    },
  });
  const truth = truthOf({ version: 1, visits: [] }, 3600);
  const clip = (byMostChanged: number) => {
    const counts = new SweepCounts(grid.size, truth);
    for (let setting = 0; setting < grid.size; setting++) {
      const [threshold, most] = [grid.placeOf(setting, 0), grid.placeOf(setting, 1)];
      const falseTriggers = 3 * threshold + byMostChanged * most;
      const none = {
        caught: 0,
        byLuck: 0,
        trueTriggers: 0,
        ignoredTriggers: 0,
        trueBouts: 0,
        trueSquares: 0,
      };
      counts.set(
        setting,
        { ...none, falseTriggers, falseBouts: falseTriggers, falseSquares: falseTriggers },
        new Uint32Array(0),
      );
    }
    return counts;
  };
  const [low, high] = [0, grid.size - 1];
  expect(grid.controlsAt(turnedBack(high, low, [clip(0)], grid))).toEqual({
    sensitivity: 30,
    mostChanged: 5000,
    minimumArea: 50,
    cooldown: 5,
  });
  expect(turnedBack(high, low, [clip(0), clip(1)], grid)).toBe(high);
});
