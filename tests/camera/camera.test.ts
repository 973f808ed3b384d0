import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { cameraSchema } from '../../src/camera/description.js';
import { positionOf, positions, valueAt } from '../../src/camera/dials.js';
import { readCamera } from '../../src/files/read-camera.js';
import { readSettings } from '../../src/files/read-settings.js';

const folder = mkdtempSync(join(tmpdir(), 'camera-'));
afterAll(() => rmSync(folder, { recursive: true }));

const analysis = { width: 320, height: 240, rate: 5, smooth: 1 };
const base = { version: 1, name: 'shed camera', analysis, reference: { kind: 'previous', lag: 1 } };
const sensitivity = { sets: 'threshold', from: 1, to: 10, step: 1, gives: [60, 6] };

function write(value: unknown): string {
  const file = join(folder, `${Math.random()}.json`);
  writeFileSync(file, typeof value === 'string' ? value : JSON.stringify(value));
  return file;
}
/** Fixed here, so that the default camera may change. */
const standing = cameraSchema.parse({
  ...base,
  controls: {
    sensitivity,
    minimumArea: { sets: 'minimumArea', choices: [25, 50, 100, 200] },
    persistence: { sets: 'persistence', choices: [1, 2, 3] },
    cooldown: { sets: 'cooldown', choices: [2, 10] },
  },
});
const camera = (controls: unknown, rest = {}) => readCamera(write({ ...base, ...rest, controls }));

describe('a dial', () => {
  it('runs along a straight line between the two values it gives', async () => {
    const dial = (await camera({ sensitivity })).controls.sensitivity as never;
    expect(positions(dial)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]);
    expect(valueAt(dial, 1)).toBe(60);
    expect(valueAt(dial, 7)).toBe(24);
    expect(valueAt(dial, 10)).toBe(6);
    expect(positionOf(dial, 24)).toBe(7);
    expect(positionOf(dial, 25)).toBeUndefined();
  });

  it('leaves no dust of binary fractions behind', async () => {
    const dial = (await camera({ d: { sets: 'cooldown', from: 0, to: 1, step: 0.1, gives: [0, 10] } }))
      .controls.d;
    expect(positions(dial as never)).toEqual([0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1]);
    expect(valueAt(dial as never, 0.3)).toBe(3);
  });

  it.each([
    [{ ...sensitivity, from: 10, to: 1 }, /controls\.s\.to: expected a number above from \(10\), found 1/],
    [{ ...sensitivity, step: 0 }, /controls\.s\.step: expected a number above 0/],
    [{ ...sensitivity, step: 20 }, /controls\.s\.step/],
    [
      { ...sensitivity, gives: [60, 0] },
      /controls\.s\.gives: expected a number above 0 and up to 255.*position 10 gives 0/,
    ],
    [{ ...sensitivity, gives: [6, 6] }, /controls\.s\.gives: expected two different values/],
    [{ ...sensitivity, sets: 'persistence', gives: [1, 5] }, /controls\.s\.gives: expected a whole number/],
    [
      { sets: 'minimumArea', choices: [50, 90_000] },
      /controls\.s\.choices\[1\]: expected a number from 1 to 76800/,
    ],
    [{ sets: 'cooldown', choices: [5, 5] }, /controls\.s\.choices\[1\]: expected each choice once/],
    [{ sets: 'cooldown', choices: [] }, /controls\.s/],
  ])('is refused when its map makes no sense: %j', async (dial, message) => {
    await expect(camera({ s: dial })).rejects.toThrow(message);
  });

  it.each([
    [{ ...sensitivity, from: -1e300 }, /controls\.s\.from: expected a number from -1000000000 to 1000000000/],
    [
      { ...sensitivity, step: 1e-320 },
      /controls\.s\.step: expected a step that leaves at most 100000 positions/,
    ],
    [
      { ...sensitivity, from: 9e8, to: 9e8 + 1e-5, step: 1e-7 },
      /controls\.s\.step: expected a step that leads to another number/,
    ],
    [
      { sets: 'cooldown', choices: Array.from({ length: 100_001 }, (_, i) => i / 10) },
      /controls\.s\.choices: expected at most 100000 of them, found 100001/,
    ],
  ])('is refused when it goes beyond all bounds', async (dial, message) => {
    await expect(camera({ s: dial })).rejects.toThrow(message);
  });

  it('may be called what every object has', async () => {
    const made = await camera({ constructor: sensitivity });
    const given = { version: 1, minimumArea: 100, cooldown: 10, controls: { constructor: 7 } };
    expect((await readSettings(write(given), made)).threshold).toBe(24);
    await expect(readSettings(write({ ...given, controls: { valueOf: 7 } }), made)).rejects.toThrow(
      /no such dial/,
    );
  });

  it('is refused when another dial sets the same value', async () => {
    await expect(camera({ a: sensitivity, b: sensitivity })).rejects.toThrow(
      /controls\.b\.sets.*'a' already sets it/,
    );
  });
});

describe('a camera file', () => {
  it('is refused with a near miss for an unknown field', async () => {
    await expect(camera({}, { shuterLag: 1 })).rejects.toThrow(
      /shuterLag: unknown field \(did you mean 'shutterLag'\?\)/,
    );
  });

  it('is told the fields of the reference that it names, not those of others', async () => {
    await expect(camera({ sensitivity }, { reference: { kind: 'previous', seconds: 2 } })).rejects.toThrow(
      'reference.seconds: unknown field; known here: kind, lag, whileBusy; remove it or mend its name',
    );
  });

  it('is refused where its reference would hold more than memory does', async () => {
    const lag = (lag: number) => camera({}, { reference: { kind: 'previous', lag } });
    await expect(lag(3496)).rejects.toThrow(
      /reference\.lag: expected a whole number from 1 to 3495 at 320x240 pixels.*, found 3496/,
    );
    expect((await lag(3495)).reference).toMatchObject({ lag: 3495 });
  });

  it('names the file and the place of a wrong value', async () => {
    await expect(camera({}, { analysis: { ...analysis, width: 0.5 } })).rejects.toThrow(
      /\.json: analysis\.width: expected .*, found 0\.5/,
    );
  });
});

describe('settings', () => {
  const values = { threshold: 24, minimumArea: 100, cooldown: 10 };
  const settings = (value: unknown) => readSettings(write(value), standing);

  it('are the same by dial positions and by engine values', async () => {
    const controls = { sensitivity: 7, minimumArea: 100, persistence: 2, cooldown: 10 };
    const byDials = await settings({ version: 1, controls });
    const byValues = await settings({
      version: 1,
      threshold: 24,
      minimumArea: 100,
      persistence: 2,
      cooldown: 10,
    });
    expect(byDials).toEqual(byValues);
    expect(byDials.warnings).toEqual([]);
  });

  it('left out are the whole frame and one frame', async () => {
    const s = await settings({ version: 1, threshold: 24, minimumArea: 100, cooldown: 10 });
    expect(s).toMatchObject({ mostChanged: 76_800, persistence: 1 });
  });

  it('that no dial position gives are replayed with a warning', async () => {
    const s = await settings({ version: 1, threshold: 23.5, minimumArea: 100, cooldown: 10 });
    expect(s.threshold).toBe(23.5);
    expect(s.warnings.join()).toMatch(/threshold 23\.5 is replayed, but cannot be set on shed camera/);
  });

  it('that can never fire are named as they were written', async () => {
    const odd = cameraSchema.parse({
      ...base,
      controls: {
        size: { sets: 'minimumArea', from: 1, to: 3, step: 1, gives: [100, 300] },
        most: { sets: 'mostChanged', choices: [150, 5000] },
      },
    });
    const warnings = async (value: object) =>
      (await readSettings(write({ version: 1, threshold: 24, cooldown: 10, ...value }), odd)).warnings.join();
    expect(await warnings({ controls: { size: 3, most: 150 } })).toContain(
      ': controls.size 3 (minimumArea 300) is above controls.most 150: this never fires',
    );
    expect(await warnings({ minimumArea: 200, controls: { most: 150 } })).toContain(
      ': minimumArea 200 is above controls.most 150: this never fires',
    );
  });

  it.each([
    [{ threshold: 0, minimumArea: 100, cooldown: 10 }, /threshold: expected a number above 0 and up to 255/],
    [{ threshold: 256, minimumArea: 100, cooldown: 10 }, /threshold/],
    [{ threshold: 24, minimumArea: 0, cooldown: 10 }, /minimumArea: expected a number from 1 to 76800/],
    [{ threshold: 24, minimumArea: 100, mostChanged: 76_801, cooldown: 10 }, /mostChanged/],
    [
      { threshold: 24, minimumArea: 100, cooldown: -1 },
      /cooldown: expected a number from 0 to 86400 \(seconds\), found -1/,
    ],
    [
      { threshold: 24, minimumArea: 100, cooldown: 10, persistence: 1.5 },
      /persistence: expected a whole number/,
    ],
    [{ minimumArea: 100, cooldown: 10 }, /threshold: expected a value, found nothing/],
    [
      { controls: { sensitivity: 11, minimumArea: 100, cooldown: 10 } },
      /controls\.sensitivity: expected 1 to 10 in steps of 1.*found 11/,
    ],
    [{ controls: { sensitivity: 7.5, minimumArea: 100, cooldown: 10 } }, /controls\.sensitivity.*found 7\.5/],
    [
      { controls: { sensitivty: 7, minimumArea: 100, cooldown: 10 } },
      /no such dial \(did you mean 'sensitivity'\?\)/,
    ],
    [
      { controls: { sensitivity: 7, minimumArea: 100 } },
      /\.json: controls\.cooldown: expected a value, found nothing; add controls\.cooldown \(one of 2, 10\)/,
    ],
    [
      { threshold: 24, minimumArea: 100 },
      /\.json: cooldown: expected a value, found nothing; add "cooldown"/,
    ],
    [
      { threshold: 24, controls: { sensitivity: 7, minimumArea: 100, cooldown: 10 } },
      /controls\.sensitivity already sets it/,
    ],
    [
      {
        ...values,
        mask: [
          [
            [0, 0],
            [160, 0],
            [160, 240],
          ],
        ],
      },
      /\.json: mask\[0\]\[1\]\[0\]: expected a fraction of the frame, from 0 to 1, found 160; divide pixels by the frame's width/,
    ],
    [
      {
        ...values,
        mask: [
          [
            [0, 0],
            [0.5, 0],
            [0.5, 100],
          ],
        ],
      },
      /mask\[0\]\[2\]\[1\]: .*, percent by 100/,
    ],
    [
      { ...values, controls: { constructor: 5 } },
      /controls\.constructor: shed camera has no such dial; its dials are/,
    ],
    [{ ...values, controls: { toString: 5 } }, /controls\.toString: shed camera has no such dial/],
  ])('that make no sense are refused: %j', async (value, message) => {
    await expect(settings({ version: 1, ...value })).rejects.toThrow(message);
  });
});
