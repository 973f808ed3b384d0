import { describe, expect, it } from 'vitest';
import { DirectReplay } from '../../src/engine/direct.js';
import { Differencer } from '../../src/engine/pipeline.js';
import type { ReferenceModel } from '../../src/engine/reference.js';
import { busyBy } from '../../src/fit/search/busy.js';
import { drawFrames, small } from '../support/clips.js';

const times = Float64Array.from({ length: 300 }, (_, k) => k / 5);
const frames = drawFrames(
  300,
  (k) => ({ x: (k * k) % 50, y: k % 70 < 35 ? 8 : 30, size: 6 + (k % 3), level: k % 40 < 20 ? 150 : 105 }),
  'busy',
);
const cooldown = 2.4;

describe.each<[string, ReferenceModel]>([
  ['the frame before', { kind: 'previous', lag: 1 }],
  ['three frames back', { kind: 'previous', lag: 3 }],
  ['an average', { kind: 'average', seconds: 1.5 }],
])('%s, followed by the times at which it is known to have fired', (_, reference) => {
  it.each(['frozen', 'restarts'] as const)('differs by what the camera saw: %s', (whileBusy) => {
    const camera = { ...small, smooth: 1, reference, mask: null };
    const settings = { threshold: 20, minimumArea: 12, mostChanged: 3072, persistence: 2, busy: cooldown };
    const replay = new DirectReplay({ ...camera, whileBusy, area: 'region', ...settings });
    const fired: number[] = [];
    const seen = frames.map((frame, k) => {
      if (replay.step(frame, times[k]!)) fired.push(times[k]!);
      return replay.lastDifference?.slice() ?? new Uint8Array(small.width * small.height);
    });
    expect(fired.length).toBeGreaterThan(5);
    const busy = busyBy(
      times,
      Float64Array.from(fired, (time) => time + 0.04),
      whileBusy,
      cooldown,
    );
    let differencer = new Differencer({ ...camera, knownBusy: busy });
    frames.forEach((frame, k) => {
      // Interrupted and gone on with, whether it was busy or not.
      if (k % 50 === 49) {
        const state = differencer.save();
        differencer = new Differencer({ ...camera, knownBusy: busy });
        differencer.load(state);
      }
      // Element by element the same takes seconds.
      expect(Buffer.compare(differencer.next(frame, times[k]!), seen[k]!), `frame ${k}`).toBe(0);
    });
  });
});
