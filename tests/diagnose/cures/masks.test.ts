import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cameraSchema } from '../../../src/camera/description.js';
import type { ChangeMaps } from '../../../src/diagnose/cures/change-maps.js';
import { activeUnder } from '../../../src/diagnose/cures/mask-effect.js';
import { neighboursOf, shapes } from '../../../src/diagnose/cures/mask-shapes.js';
import type { ReplayedClip } from '../../../src/diagnose/replayed-clip.js';
import { EvidenceMeter } from '../../../src/engine/evidence.js';
import { COLUMNS, ROWS } from '../../../src/measure/pieces.js';

describe('frames under a further mask', () => {
  const [width, height] = [9, 7];
  const bits = (n: number) => fc.array(fc.constantFrom(0, 0, 1), { minLength: n, maxLength: n });

  it.each(['region', 'changed'] as const)(
    'are as active as when each is labelled by itself: %s',
    async (area) => {
      const camera = cameraSchema.parse({
        version: 1,
        analysis: { width, height, rate: 5 },
        reference: { kind: 'previous' },
        area,
      });
      const masksOf = fc.array(bits(width * height), { minLength: 1, maxLength: 8 });
      const framesOf = fc.array(bits(width * height), { minLength: 1, maxLength: 12 });
      const areas = fc.integer({ min: 1, max: 12 });
      await fc.assert(
        fc.asyncProperty(framesOf, masksOf, areas, areas, async (frames, masks, minimumArea, more) => {
          const settings = { minimumArea, mostChanged: minimumArea + more };
          const maps: ChangeMaps = {
            width,
            height,
            places: frames.map((_, k) => 2 * k),
            async *read() {
              for (const [k, frame] of frames.entries()) {
                const runs = Uint32Array.from(frame.flatMap((bit, i) => (bit ? [i, i + 1] : [])));
                yield { place: 2 * k, changed: Uint8Array.from(frame), runs };
              }
            },
          };
          const replayed = {
            camera,
            settings,
            times: new Float64Array(2 * frames.length),
          } as unknown as ReplayedClip;
          const active = await activeUnder(
            replayed,
            maps,
            masks.map((mask) => Uint8Array.from(mask)),
          );
          const meter = new EvidenceMeter(width, height);
          masks.forEach((mask, m) => {
            frames.forEach((frame, k) => {
              const left = Uint8Array.from(frame, (bit, i) => (mask[i] ? 0 : bit));
              const { [area]: sizes, changed } = meter.measure(left);
              const expected = sizes[1]! >= minimumArea && changed[1]! <= settings.mostChanged;
              expect(active[m]?.[2 * k]).toBe(expected ? 1 : 0);
              expect(active[m]?.[2 * k + 1]).toBe(0);
            });
          });
        }),
        { seed: 20260611, numRuns: 200 },
      );
    },
  );
});

describe('the masks that are considered', () => {
  const all = shapes();

  it('have three or four corners within the picture, in three decimals, and hide at most half of it', () => {
    for (const { polygon, size } of all) {
      expect([3, 4]).toContain(polygon.length);
      expect(polygon.flat().every((x) => x >= 0 && x <= 1 && Number(x.toFixed(3)) === x)).toBe(true);
      expect(size).toBeLessThanOrEqual((COLUMNS * ROWS) / 2);
    }
  });

  it('stay convex when a corner moves, and move by one line at a time', () => {
    for (const shape of all.filter((_, i) => i % 997 === 0)) {
      for (const { polygon } of neighboursOf(shape)) {
        const moved = polygon.filter((p, i) => String(p) !== String(shape.polygon[i]));
        expect(moved).toHaveLength(1);
        // Every corner's turn has the sign of the polygon's area (shoelace formula).
        const cross = (o: number[], p: number[], q: number[]) =>
          (p[0]! - o[0]!) * (q[1]! - o[1]!) - (p[1]! - o[1]!) * (q[0]! - o[0]!);
        const n = polygon.length;
        const at = (i: number) => polygon[i % n] as number[];
        const area = polygon.reduce((sum, _, i) => sum + cross([0, 0], at(i), at(i + 1)), 0);
        polygon.forEach((_, i) => {
          expect(Math.sign(cross(at(i), at(i + 1), at(i + 2)))).toBe(Math.sign(area));
        });
      }
    }
  });
});
