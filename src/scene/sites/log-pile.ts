import { between } from '../../base/random.js';
import { dull } from '../colour.js';
import type { Plant } from '../foliage.js';
import { boughsOf, growTuft } from '../growing.js';
import type { SceneSpec } from '../spec.js';
import { type Plot, paintGround, paintHedge, paintLitter, paintSky } from './plot.js';
import type { Site, Spot } from './site.js';
import { paintBoard, paintLog, paintLogEnd } from './things.js';

const brambles = [0x2f4a22, 0x48672c, 0x6c8540, 0x3c5a33, 0x7a6a35].map(dull);
const cane = dull(0x5a3a3a);

/** A pile of logs before a hedge, brambles arching over it from both sides. */
export function growLogPile(p: Plot, spec: SceneSpec): Site {
  const { width, height } = p.canvas;
  const { subject, foliage } = spec.scene;
  const overcast = spec.conditions.rain > 0 ? 1 : 0.35;
  const far = subject * 2.2;
  paintSky(p, overcast);
  paintGround(p, dull(0x4a3c2c), dull(0x7d6b50), dull(0x586a36), 0.35);
  paintHedge(p, far, (x) => height * (0.1 - 0.14 * Math.sin((x / width) * 4.2 + 2.1)), brambles);
  paintLitter(p, 260, subject * 1.5, far, [0x6e5336, 0x8a6f48, 0x5a4028, 0x9b8a5c].map(dull));
  const post = 0.42 * far;
  paintBoard(p, -post, 0, -post + 0.11, 1.3, far - 0.1, dull(0x7d7468));
  const z = subject * 1.16;
  const perches = stackLogs(p, z, subject);
  paintLitter(
    p,
    420,
    subject * 0.6,
    subject * 1.1,
    [0x6e5336, 0x8a6f48, 0x5a4028, 0xa58d5e, 0x4d5a2c].map(dull),
  );
  const look = { thick: 0.02, leafLength: 0.062, bushy: 0.17, colours: brambles, bark: cane };
  const bramble = boughsOf(
    { ...look, supple: [0.16, 0.26], frequency: [0.8, 1.5] },
    width,
    height,
    p.lens,
    p.r,
  );
  const plants: Plant[] = [
    bramble('left brambles', foliage * 1.1, [-0.06, 0.3], [0.1, -0.02], [0.42, 0.36], 95),
    bramble('left brambles', foliage, [-0.05, 0.55], [0.04, 0.16], [0.27, 0.5], 90),
    bramble('left brambles', foliage * 0.92, [-0.05, 0.14], [0.12, 0.0], [0.26, 0.3], 70),
    bramble('right brambles', foliage * 1.15, [1.05, 0.2], [0.84, -0.04], [0.6, 0.3], 95),
    bramble('right brambles', foliage * 1.05, [1.06, 0.42], [0.9, 0.1], [0.74, 0.46], 85),
    bramble('right brambles', subject * 0.8, [1.04, 0.75], [0.97, 0.45], [0.86, 0.66], 40),
    bramble('top brambles', foliage * 1.2, [0.36, -0.08], [0.5, 0.0], [0.64, 0.2], 80),
    bramble('top brambles', foliage * 1.06, [0.6, -0.08], [0.52, 0.08], [0.4, 0.3], 80),
    bramble('right brambles', foliage * 0.96, [1.05, 0.08], [0.8, 0.1], [0.62, 0.42], 85),
  ];
  for (const [x, zz, blades] of [
    [-0.5, 1.25, 60],
    [-0.33, 0.72, 36],
    [0.42, 0.7, 40],
    [0.62, 1.05, 46],
    [-0.05, 1.6, 40],
  ] as const) {
    plants.push(
      growTuft(
        {
          group: `grass ${x}`,
          x: x * subject * zz,
          z: subject * zz,
          spread: 0.12,
          tall: 0.26,
          thick: 0.006,
          blades,
          colours: [0x5d7a34, 0x86944d, 0xa39c63].map(dull),
          supple: 0.26,
          frequency: 1.9,
        },
        width,
        p.lens,
        p.r,
      ),
    );
  }
  return {
    plants,
    ways: {
      ground: { half: 0.62, near: subject * 0.72, far: subject * 1.02 },
      perches,
      hides: [
        [
          { x: 0.25 * subject, y: 0, z: z + 0.15 },
          { x: 0.46 * subject, y: 0, z: z * 0.93 },
        ],
        [
          { x: -0.02 * subject, y: 0, z: z + 0.15 },
          { x: -0.22 * subject, y: 0, z: z * 0.93 },
        ],
      ],
    },
  };
}

/** Rows of log ends with one long log in front; the places on top. */
function stackLogs(p: Plot, z: number, subject: number): Spot[] {
  const perches: Spot[] = [];
  const r = 0.092;
  for (const [row, count] of [
    [0, 5],
    [1, 4],
    [2, 3],
    [3, 2],
  ] as const) {
    for (let i = 0; i < count; i++) {
      const radius = r * between(p.r, 0.85, 1.12);
      const x = 0.12 * subject + (i - (count - 1) / 2) * 2.05 * r + between(p.r, -0.012, 0.012);
      const y = r + row * 1.72 * r;
      paintLogEnd(p, x, y, radius, z);
      if (i === 0 || i === count - 1 || row === 3) perches.push({ x, y: y + radius * 0.97, z: z - 0.03 });
    }
  }
  const front = subject * 1.04;
  paintLog(p, -0.5 * subject, -0.14 * subject, 0.055, 0.058, front);
  perches.push(
    { x: -0.36 * subject, y: 0.108, z: front - 0.02 },
    { x: -0.24 * subject, y: 0.108, z: front - 0.02 },
  );
  return perches;
}
