import { describe, expect, it } from 'vitest';
import { FoliageFinder, type FoundFoliage } from '../../src/weather/foliage/foliage-finder.js';
import { bricks, fence, filmed, ground, hedge, height, lines, passer, width } from './yards.js';

function foundIn(runs: readonly (readonly Uint8Array[])[]): FoundFoliage {
  const finder = new FoliageFinder(width, height);
  for (const run of runs) {
    finder.restart();
    for (const y of run) finder.see(y);
  }
  return finder.find();
}

describe('a yard without a leaf', () => {
  it.each([
    ['a car park, asphalt and painted lines', [ground('asphalt', 1, 18), lines()]],
    ['a car park of coarse asphalt', [ground('asphalt', 2, 25), lines()]],
    ['a brick wall', [bricks('wall')]],
    ['a fence', [fence('planks')]],
    ['gravel', [ground('gravel', 3, 30)]],
    ['gravel that something crosses now and again', [ground('gravel', 3, 30), passer('dog')]],
  ])('%s: nothing sways', (name, parts) => {
    const { map, share } = foundIn(filmed(parts, name));
    expect(share).toBe(0);
    expect(Math.max(...map)).toBe(0);
  });

  it('asks for outlines where stone looks as leaves do', () => {
    expect(foundIn(filmed([ground('gravel', 3, 30)], 'stones')).unsure).toBe(true);
  });
});

describe('a hedge beside painted lines', () => {
  const box = [20, 60, 150, 200] as const;
  const painted = new Float32Array(width * height);
  lines()(painted, 0);

  // The leaves are 3 to 6 pixels long: the last go farther than they are wide.
  it.each([0.3, 1, 4, 8])(
    'whose leaves go %f pixels to either side: the hedge sways, the lines do not',
    (reach) => {
      const { map } = foundIn(
        filmed([ground('asphalt', 1, 18), hedge('hedge', box, reach), lines()], 'both'),
      );
      const mean = (counts: (x: number, y: number) => boolean) => {
        let [sum, n] = [0, 0];
        map.forEach((value, i) => {
          if (!counts(i % width, Math.floor(i / width))) return;
          sum += value;
          n++;
        });
        return sum / n;
      };
      const within = (by: number) => (x: number, y: number) =>
        x >= box[0] - by && x < box[2] + by && y >= box[1] - by && y < box[3] + by;
      const onLine = (x: number, y: number) => painted[y * width + x]! > 200;
      const besideLine = (x: number, y: number) => [-5, 0, 5].some((d) => onLine(x + d, y));
      expect(mean((x, y) => within(-6)(x, y) && !besideLine(x, y))).toBeGreaterThan(180);
      expect(mean(onLine)).toBeLessThan(3);
      expect(mean((x, y) => !within(8)(x, y))).toBe(0);
    },
  );
});
