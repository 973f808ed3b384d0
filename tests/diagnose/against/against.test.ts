import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cameraSchema } from '../../../src/camera/description.js';
import type { ResolvedSettings } from '../../../src/camera/settings.js';
import { type Clip, openClip } from '../../../src/clip/open.js';
import { compareCases } from '../../../src/diagnose/against/against.js';
import { openReplayed } from '../../../src/diagnose/replayed-clip.js';
import { Cache } from '../../../src/store/cache.js';
import { smallCamera, writeClip } from '../../support/clips.js';
import { camera, drawn, settings as plain, type Square } from '../made.js';

const folder = mkdtempSync(join(tmpdir(), 'against-'));
const cache = new Cache(join(folder, 'cache'));
afterAll(() => rmSync(folder, { recursive: true }));

/** Each is there for one frame, so that two frames change; five frames a second. */
const blink = (frame: number, size: number, grey: number, at: [number, number] = [20, 20]): Square => ({
  from: frame,
  to: frame,
  size,
  grey,
  at,
  still: true,
});
const blinks = [
  blink(10, 6, 120), // by 20 grey levels
  blink(60, 3, 200), // 9 pixels
  blink(110, 6, 200, [2, 2]), // in the corner
  blink(160, 20, 200), // 400 pixels
  blink(210, 6, 200),
  blink(220, 6, 200), // 2 s later
];
const strict: ResolvedSettings = {
  ...plain,
  mostChanged: 300,
  mask: [
    [
      [0, 0],
      [0.25, 0],
      [0.25, 0.3],
      [0, 0.3],
    ],
  ],
};
const loose: ResolvedSettings = { ...plain, threshold: 18, minimumArea: 4 };

let clip: Clip;
beforeAll(async () => {
  // A photo of a trigger at 44.0 is taken at 44.4.
  const visits = [{ start: 44.3, end: 44.6, type: 'animal', name: 'wren' }];
  await writeClip(join(folder, 'clip'), drawn(240, blinks), { version: 1, visits });
  clip = await openClip(join(folder, 'clip'), { cache });
});
const compared = async (these: ResolvedSettings, other: ResolvedSettings, cam = camera) =>
  compareCases(
    await openReplayed(clip, cam, these, { cache }),
    await openReplayed(clip, cam, other, { cache }),
    {
      cache,
    },
  );

describe('two groups of settings', () => {
  it('differ by triggers for which the silent one had a reason each', async () => {
    const { both, triggers, visits } = await compared(strict, loose);
    expect(both).toEqual({ triggers: 1, visits: 0 });
    expect(visits).toEqual([]);
    const found = triggers.map(({ time, firedBy, why }) => ({ time, firedBy, why }));
    expect(found).toEqual([
      { time: 2, firedBy: 'other', why: 'threshold' },
      { time: 12, firedBy: 'other', why: 'minimum area' },
      { time: 22, firedBy: 'other', why: 'mask' },
      { time: 32, firedBy: 'other', why: 'most changed' },
    ]);
    const sentences = [
      /32 grey levels 0 pixels .* other's 18 it was 36; it wants 16/,
      /9 pixels in one piece change and wants 16/,
      /36 pixels in one piece changed where the others watch, 0 where it does; it wants 16/,
      /400 pixels changed in all, and above 300/,
    ];
    triggers.forEach(({ evidence }, i) => {
      expect(evidence).toMatch(sentences[i] as RegExp);
    });
  });

  it('say the same the other way round', async () => {
    const forward = await compared(strict, loose);
    const back = await compared(loose, strict);
    expect(back.triggers).toEqual(forward.triggers.map((t) => ({ ...t, firedBy: 'these' })));
  });

  it('differ by frames in a row', async () => {
    const { triggers } = await compared(plain, { ...plain, persistence: 3 });
    expect(triggers.map(({ firedBy, why }) => `${firedBy}: ${why}`)).toEqual(
      Array(3).fill('these: persistence'),
    );
    expect(triggers[0]?.evidence).toMatch(/in 1 frame in a row up to then and wants 3/);
  });

  it('differ by what fell into a busy time, and by the visit that went with it', async () => {
    const { both, triggers, visits } = await compared(plain, { ...plain, cooldown: 1 });
    expect(both).toEqual({ triggers: 3, visits: 0 });
    expect(triggers).toMatchObject([{ time: 44, firedBy: 'other', verdict: 'true', why: 'busy' }]);
    expect(triggers[0]?.evidence).toMatch(/trigger at 0:42\.0 until 0:46\.0/);
    expect(visits).toMatchObject([{ visit: 0, name: 'wren', caughtBy: 'other', why: 'cooldown' }]);
  });

  it('that are the same do not differ', async () => {
    const { both, triggers, visits } = await compared(loose, loose);
    expect({ triggers, visits }).toEqual({ triggers: [], visits: [] });
    expect(both.triggers).toBe(5);
  });

  it('may have seen different things where the reference waits for the camera', async () => {
    const waiting = cameraSchema.parse({
      ...smallCamera,
      analysis: { ...smallCamera.analysis, smooth: 0 },
      reference: { kind: 'previous', lag: 1, whileBusy: 'frozen' },
    });
    const { triggers } = await compared(plain, { ...loose, cooldown: 1 }, waiting);
    const whys = triggers.map(({ time, why }) => `${time}: ${why}`);
    expect(whys).toContain('2: reference');
    expect(whys).toContain('44: busy');
  });
});
