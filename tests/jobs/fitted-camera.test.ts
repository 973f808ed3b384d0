import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import { type Camera, cameraSchema } from '../../src/camera/description.js';
import { checkDials, positions, valueAt } from '../../src/camera/dials.js';
import { fittedCamera } from '../../src/jobs/fit/fitted-camera.js';

const values = { kind: 'region' as const, level: 20, area: 12, persistence: 2, cooldown: 4 };
const reference = { kind: 'previous' as const, lag: 2 };
const fittedAt = (width: number, height: number, rate = 5) => ({
  look: { width, height, smooth: 0, reference, whileBusy: 'continues' as const },
  rate,
  values,
  mostChanged: null,
});
const cameraOf = (analysis: Camera['analysis'], controls: object = {}): Camera =>
  cameraSchema.parse({ version: 1, analysis, reference, controls });
const large = { width: 640, height: 480, rate: 5, smooth: 0 };

describe('the rate that is written is the one that was fitted', () => {
  it.each([
    { said: 5, fitted: 2.5, written: 2.5, notes: 1 },
    { said: 10, fitted: 5, written: 5, notes: 1 },
    { said: 5, fitted: 4.96, written: 5, notes: 0 },
    { said: 2, fitted: 2, written: 2, notes: 0 },
  ])('said $said a second, fitted at $fitted: $written', ({ said, fitted, written, notes }) => {
    const found = fittedCamera(fittedAt(640, 480, fitted), cameraOf({ ...large, rate: said }), null);
    expect(found.camera.analysis.rate).toBe(written);
    expect(found.notes.filter((note) => /frames a second/.test(note))).toHaveLength(notes);
  });
});

it('says which of the values found no position of its dials gives, and the nearest one', () => {
  const controls = {
    size: { sets: 'minimumArea', choices: [4, 12, 30] },
    sensitivity: { sets: 'threshold', from: 1, to: 3, step: 1, gives: [30, 14] },
  };
  const { notes } = fittedCamera(fittedAt(640, 480), cameraOf(large, controls), null);
  expect(notes).toContainEqual(
    expect.stringContaining('no position of its dials gives threshold 20 (the nearest of sensitivity: 2):'),
  );
});

describe('dials in pixels, for a smaller frame', () => {
  const size = { sets: 'minimumArea', from: 1, to: 10, step: 1, gives: [80, 8] };

  it('keep even steps where the frame can tell them apart', () => {
    const { camera } = fittedCamera(fittedAt(320, 240), cameraOf(large, { size }), null);
    expect(camera.controls).toEqual({ size: { ...size, gives: [20, 2] } });
  });

  it('are a list of pixels where both ends would be the same one', () => {
    const { camera, notes } = fittedCamera(fittedAt(80, 60), cameraOf(large, { size }), null);
    expect(camera.controls).toEqual({ size: { sets: 'minimumArea', choices: [1] } });
    expect(notes.join()).toMatch(/positions of the dial size are now pixels of the fitted frame/);
  });

  it('are taken by whatever opens a camera file, each of them and for any frame', () => {
    const dial = fc.record({
      way: fc.double({ min: 1, max: 12.9, noNaN: true }),
      gives: fc.tuple(fc.integer({ min: 1, max: 4800 }), fc.integer({ min: 1, max: 4800 })),
      choices: fc.uniqueArray(fc.integer({ min: 1, max: 4800 }), { minLength: 1, maxLength: 6 }),
    });
    const side = fc.integer({ min: 1, max: 200 });
    fc.assert(
      fc.property(dial, side, side, ({ way, gives, choices }, width, height) => {
        fc.pre(gives[0] !== gives[1]);
        const controls = {
          size: { sets: 'minimumArea' as const, from: 0, to: way, step: 1, gives },
          most: { sets: 'mostChanged' as const, choices },
        };
        checkDials(controls, 4800, 'given');
        const base = cameraOf({ ...large, width: 80, height: 60 }, controls);
        const { camera } = fittedCamera(fittedAt(width, height), base, null);
        expect(() => checkDials(camera.controls, width * height, 'fitted')).not.toThrow();
        for (const fitted of Object.values(camera.controls))
          for (const position of positions(fitted)) expect(valueAt(fitted, position)).toBeGreaterThan(0);
      }),
    );
  });
});

it('takes as many photos a trigger as were counted, also where the description says otherwise', () => {
  const said = { ...cameraOf(large), burst: { photos: 1, interval: 1 } };
  const { camera } = fittedCamera(fittedAt(640, 480), said, { photos: 2, interval: 1.004 });
  expect(camera.burst).toEqual({ photos: 2, interval: 1 });
  const same = fittedCamera(
    fittedAt(640, 480),
    { ...said, burst: { photos: 2, interval: 0.9 } },
    camera.burst,
  );
  expect(same.camera.burst).toEqual({ photos: 2, interval: 0.9 });
});

describe('the shutter lag, of which photos tell nothing', () => {
  it.each([
    { what: 'of the camera given stays', lag: 0.8, burst: null, cooldown: 4, kept: 0.8 },
    { what: 'is the default camera’s where none is given', lag: null, burst: null, cooldown: 4, kept: 0.5 },
    {
      what: 'is assumed no longer than the cooldown leaves beside the photos',
      lag: null,
      burst: { photos: 3, interval: 1 },
      cooldown: 2.25,
      kept: 0.25,
    },
  ])('$what', ({ lag, burst, cooldown, kept }) => {
    const found = { ...fittedAt(640, 480), values: { ...values, cooldown } };
    const base = lag === null ? null : { ...cameraOf(large), shutterLag: lag };
    const { camera, notes } = fittedCamera(found, base, burst);
    expect(camera.shutterLag).toBe(kept);
    expect(camera.burst.photos).toBe(burst?.photos ?? 1);
    expect(notes.join()).toContain(`shutterLag ${kept} s`);
  });
});

describe('dials that nobody said the camera has', () => {
  const odd = { kind: 'region' as const, level: 27, area: 27, persistence: 2, cooldown: 3 };

  it('hold what was found among their positions, in the order of the dial', () => {
    const found = { ...fittedAt(320, 240), values: odd, mostChanged: 9000 };
    const { camera, notes } = fittedCamera(found, null, null);
    expect(camera.controls).toEqual({
      threshold: { sets: 'threshold', choices: [80, 72, 64, 56, 48, 40, 32, 27, 24, 16, 8] },
      minimumArea: { sets: 'minimumArea', choices: [25, 27, 50, 100, 200, 400, 800] },
      mostChanged: { sets: 'mostChanged', choices: [5000, 9000, 20_000, 76_800] },
      persistence: { sets: 'persistence', choices: [1, 2, 3] },
      cooldown: { sets: 'cooldown', choices: [2, 3, 5, 10, 30, 60] },
    });
    expect(() => checkDials(camera.controls, 320 * 240, 'fitted')).not.toThrow();
    expect(notes.join()).toContain('threshold 27, minimumArea 27, mostChanged 9000, cooldown 3');
  });

  it('stay as they are where they give it already', () => {
    const found = { ...fittedAt(320, 240), values: { ...odd, level: 24, area: 25, cooldown: 2 } };
    expect(fittedCamera(found, null, null).camera.controls).toEqual(defaultCamera.controls);
  });

  it('are not touched where the owner did say', () => {
    const size = { sets: 'minimumArea' as const, choices: [4, 30] };
    const { camera } = fittedCamera(fittedAt(640, 480), cameraOf(large, { size }), null);
    expect(camera.controls).toEqual({ size });
  });
});
