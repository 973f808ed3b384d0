import { between } from '../../base/random.js';
import { dull } from '../colour.js';
import type { Plant } from '../foliage.js';
import { growBough, growTuft } from '../growing.js';
import type { SceneSpec } from '../spec.js';
import { type Plot, paintGround, paintHedge, paintLitter, paintSky } from './plot.js';
import type { Site, Spot } from './site.js';
import { paintBoard, paintHeap } from './things.js';

const straw = [0x6a5536, 0x8d7a4a, 0x4f4229, 0x7d8446, 0xa08c5c].map(dull);
const grass = [0x6b8038, 0x94994f, 0xb5aa6c, 0x566f2f].map(dull);

/** A heap between boards in the open, tall grass beside and before it, the estuary behind. */
export function growCompostHeap(p: Plot, spec: SceneSpec): Site {
  const { width, height } = p.canvas;
  const { subject, foliage } = spec.scene;
  const far = subject * 2.4;
  paintSky(p, spec.conditions.rain > 0 ? 1 : 0.4);
  paintGround(p, dull(0x5d4d36), dull(0x93835c), dull(0x6c7a3d), 0.5);
  const bank = p.lens.horizon;
  paintHedge(
    p,
    far * 1.3,
    (x) => bank - height * 0.16 * Math.max(0, (x / width - 0.52) * 2.4),
    [0x34491f, 0x5d7434, 0x7d8a4c].map(dull),
  );
  paintLitter(p, 260, subject * 1.4, far, straw);
  const z = subject * 1.2;
  const wood = dull(0x8b7d68);
  for (let i = 0; i < 4; i++) paintBoard(p, -0.95, 0.03 + i * 0.14, 0.28, 0.14 + i * 0.14, z + 0.35, wood);
  paintHeap(p, -0.34, 0.62, 0.46, z + 0.02, straw);
  for (let i = 0; i < 3; i++) paintBoard(p, -0.98, 0.02 + i * 0.13, -0.6, 0.12 + i * 0.13, z - 0.05, wood);
  paintBoard(p, -0.62, 0, -0.54, 0.56, z - 0.07, dull(0x6f6251));
  paintBoard(p, 0.22, 0, 0.3, 0.62, z + 0.1, dull(0x6f6251));
  paintLitter(p, 420, subject * 0.6, subject * 1.1, straw);
  const plants: Plant[] = [];
  for (let i = 0; i < 13; i++) {
    const zz = foliage * between(p.r, 0.72, 1.25);
    plants.push(
      growTuft(
        {
          group: 'tall grass',
          x: between(p.r, 0.24, 0.62) * zz,
          z: zz,
          spread: 0.2,
          tall: between(p.r, 0.5, 0.95),
          thick: 0.008,
          blades: 60,
          colours: grass,
          supple: between(p.r, 0.24, 0.36),
          frequency: between(p.r, 0.9, 1.4),
        },
        width,
        p.lens,
        p.r,
      ),
    );
  }
  for (const x of [-0.52, -0.3, 0.05, 0.5]) {
    plants.push(
      growTuft(
        {
          group: `near grass ${x}`,
          x: x * subject * 0.68,
          z: subject * 0.68,
          spread: 0.1,
          tall: x === 0.05 ? 0.14 : 0.3,
          thick: 0.006,
          blades: 36,
          colours: grass,
          supple: 0.28,
          frequency: 1.8,
        },
        width,
        p.lens,
        p.r,
      ),
    );
  }
  plants.push(
    growBough(
      {
        group: 'elder',
        z: foliage * 1.1,
        from: [-0.06, -0.02],
        bend: [0.08, 0.06],
        to: [0.24, 0.2],
        thick: 0.024,
        leafLength: 0.075,
        bushy: 0.18,
        leaves: 90,
        colours: [0x4a6a30, 0x78903f, 0x5d7a3a].map(dull),
        bark: dull(0x5c5346),
        supple: 0.2,
        frequency: 1.1,
      },
      width,
      height,
      p.lens,
      p.r,
    ),
  );
  const perches: Spot[] = [
    { x: -0.58, y: 0.56, z: z - 0.09 },
    { x: 0.26, y: 0.62, z: z + 0.08 },
    { x: -0.3, y: 0.44, z: z - 0.01 },
    { x: -0.05, y: 0.36, z: z - 0.01 },
    { x: -0.42, y: 0.2, z: z - 0.02 },
  ];
  return {
    plants,
    ways: {
      ground: { half: 0.55, near: subject * 0.76, far: subject * 1.08 },
      perches,
      hides: [
        [
          { x: -0.8, y: 0, z: z + 0.2 },
          { x: -0.45, y: 0, z: z * 0.94 },
        ],
      ],
    },
  };
}
