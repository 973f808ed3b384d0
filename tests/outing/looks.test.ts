import { describe, expect, it } from 'vitest';
import { type Camera, cameraSchema } from '../../src/camera/description.js';
import { animalLengths } from '../../src/outing/animals.js';
import { exactly } from '../../src/outing/between.js';
import { looksOf } from '../../src/outing/looks.js';
import { allSpecies } from '../../src/scene/animals/species.js';
import { focalPixels } from '../../src/weather/rain/streaks.js';

const minimumArea = { sets: 'minimumArea', choices: [50, 400, 100, 200, 800] };

function cameraWith(controls: object = {}, analysis = { width: 1280, height: 960, rate: 5 }): Camera {
  return cameraSchema.parse({
    version: 1,
    analysis,
    reference: { kind: 'previous' },
    controls,
    lens: { hfov: 62.2 },
  });
}
const looks = (camera: Camera, cm: number, metres: number) => looksOf(camera, exactly(cm), metres).looks;
const degrees = (radians: number) => (radians * 180) / Math.PI;

// Fields of view of two small sensors, board maker's camera documentation: the vertical one follows from the horizontal.
it.each([
  [2592, 1944, 53.5, 41.41],
  [3280, 2464, 62.2, 48.8],
])('a lens of %d x %d pixels and %d degrees across sees %d degrees upright', (width, height, hfov, vfov) => {
  const upright = 2 * degrees(Math.atan(height / 2 / focalPixels(width, hfov)));
  expect(Math.abs(upright - vfov)).toBeLessThan(0.06);
});

// From the same: 2592 pixels of 1.4 um behind 3.60 mm are published as 53.50 +- 0.13 degrees.
it('a field of view is that of its sensor and its focal length', () => {
  expect(Math.abs(focalPixels(2592, 53.5) * 0.0014 - 3.6)).toBeLessThan(0.01);
});

// Pixels at 3 m, 62.2 degrees, 1280 pixels across: computed apart from this program from the lengths of bird and mammal
// guides; wren, house sparrow, wood pigeon and red fox from memory.
it.each([
  ['wren', 33.6],
  ['house sparrow', 51.3],
  ['starling', 74.3],
  ['blackbird', 86.6],
  ['moorhen', 118.5],
  ['wood pigeon', 145.0],
  ['wood mouse', 33.6],
  ['hedgehog', 88.4],
  ['red fox', 236.9],
])('a %s is %d pixels long', (name, pixels) => {
  expect(looks(cameraWith(), animalLengths[name]!.value, 3).pixels).toBeCloseTo(pixels, 1);
});

it.each(Object.entries(allSpecies))('a %s is as long as the demo draws it', (name, { length }) => {
  expect(animalLengths[name]?.value).toBeCloseTo(100 * length, 9);
});

describe('area and minimumArea', () => {
  // 33.597 pixels long and half as high: pi/4 * 33.597 * 16.798 = 443.2; half of it is 221.6.
  it('start at the nearest position not above half of an ellipse', () => {
    const wren = looks(cameraWith({ spot: minimumArea }), 9.5, 3);
    expect(wren.area).toBeCloseTo(443.2, 0);
    expect(wren).toMatchObject({ minimumArea: 200, controls: { spot: 200 }, fires: true });
    // 3 m * sqrt(443.2 / 200), and from the end sqrt(1/2) of it.
    expect(wren.farthest).toBeCloseTo(4.466, 2);
    expect(wren.farthestEndOn).toBeCloseTo(3.158, 2);
  });

  it('are given as positions of an evenly stepped dial, the highest of which may be the smallest', () => {
    const dial = { sets: 'minimumArea', from: 0, to: 9, step: 1, gives: [1000, 100] };
    expect(looks(cameraWith({ finely: dial }), 9.5, 3)).toMatchObject({
      minimumArea: 200,
      controls: { finely: 8 },
    });
  });

  it('a camera without such a dial has whole pixels and no position', () => {
    expect(looks(cameraWith(), 9.5, 3)).toMatchObject({ minimumArea: 221, controls: {} });
  });

  it('the lowest position stands where all are above, and may be too much', () => {
    const camera = cameraWith({ spot: minimumArea });
    // At 9 m the area is a ninth: 49.2.
    expect(looks(camera, 9.5, 9)).toMatchObject({ minimumArea: 50, fires: false });
    // At 8 m it is 62.3.
    expect(looks(camera, 9.5, 8)).toMatchObject({ minimumArea: 50, fires: true });
  });

  it('at the farthest distance the area is just that of minimumArea', () => {
    const camera = cameraWith({ spot: minimumArea });
    const { farthest, minimumArea: wanted } = looks(camera, 25, 4);
    expect(looks(camera, 25, farthest).area).toBeCloseTo(wanted, 6);
  });
});

// A hedgehog of 20 to 30 cm, likely 25: lengths 0.8 to 1.2 times as long, areas 0.64 to 1.44 times, distances 0.8 to 1.2.
it('a range of lengths goes into all that follows from it', () => {
  const { looks: one } = looksOf(cameraWith({ spot: minimumArea }), animalLengths.hedgehog!, 3);
  const share = (name: keyof typeof one.range) => [
    one.range[name].low / one[name],
    one.range[name].high / one[name],
  ];
  expect(share('area')).toEqual([expect.closeTo(0.64, 9), expect.closeTo(1.44, 9)]);
  for (const name of ['pixels', 'farthest', 'farthestEndOn', 'nearest'] as const) {
    expect(share(name)).toEqual([expect.closeTo(0.8, 9), expect.closeTo(1.2, 9)]);
  }
});

describe('the nearest distance', () => {
  it('is where it fills the frame', () => {
    const camera = cameraWith();
    const { nearest, nearestBy } = looks(camera, 25, 4);
    expect(nearestBy).toBe('frame');
    expect(looks(camera, 25, nearest).pixels).toBeCloseTo(1280, 6);
    // In a frame four times as wide as high it is the height that is filled first, at half the length.
    const wide = cameraWith({}, { width: 1280, height: 320, rate: 5 });
    expect(looks(wide, 25, looks(wide, 25, 4).nearest).pixels).toBeCloseTo(640, 6);
  });

  it('is where two of it, as it was and as it is, are all that mostChanged allows', () => {
    const most = { sets: 'mostChanged', choices: [60_000, 20_000, 40_000] };
    const camera = cameraWith({ most });
    const { nearest, nearestBy, mostChanged } = looks(camera, 25, 4);
    expect(nearestBy).toBe('mostChanged');
    expect(looks(camera, 25, nearest).area).toBeCloseTo(30_000, 4);
    expect(mostChanged.map(({ value }) => value)).toEqual([20_000, 60_000]);
    expect(mostChanged[1]?.nearest).toBe(nearest);
    expect(looks(camera, 25, mostChanged[0]!.nearest).area).toBeCloseTo(10_000, 4);
  });
});

it('a lens that camera.json leaves out is named', () => {
  const { lens, ...without } = cameraWith();
  const { looks: seen, assumed } = looksOf(without, exactly(9.5), 3);
  expect(lens).toEqual({ hfov: 62.2 });
  expect(seen.pixels).toBeCloseTo(33.6, 1);
  expect(assumed.join()).toContain('lens.hfov: 62.2 degrees');
});
