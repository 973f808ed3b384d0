import { between } from '../../base/random.js';
import { dull } from '../colour.js';
import type { Plant } from '../foliage.js';
import { boughsOf, growTuft } from '../growing.js';
import { groundDistance } from '../lens.js';
import type { SceneSpec } from '../spec.js';
import { roughNoise } from '../texture.js';
import { fillBowl } from '../water.js';
import { type Plot, paintGround, paintHedge, paintLitter, stand } from './plot.js';
import type { Site, Spot } from './site.js';
import { paintBoard } from './things.js';

const hawthorn = [0x4a6a2c, 0x6f8a3f, 0x36521f, 0x8aa052].map(dull);

/** A shallow bowl let into short turf, looked down on, under a hawthorn bough and before a fence. */
export function growWaterBowl(p: Plot, spec: SceneSpec): Site {
  const { width, height } = p.canvas;
  const { subject, foliage } = spec.scene;
  const far = subject * 1.9;
  paintGround(p, dull(0x6b5f49), dull(0x9c9176), dull(0x66763b), 0.6);
  paintHedge(p, far * 1.3, () => 0, hawthorn);
  for (let i = -14; i < 14; i++) {
    const x = i * 0.16 + between(p.r, -0.008, 0.008);
    paintBoard(p, x, 0.02, x + 0.14, between(p.r, 0.62, 0.68), far, dull(p.r() < 0.5 ? 0x857a6c : 0x6f675c));
  }
  paintLitter(p, 340, subject * 0.6, far, [0x7d6c45, 0x8f8a55, 0x59662f, 0x9a8f73].map(dull));
  const radius = 0.3;
  paintBowl(p, 0, subject, radius);
  const water = fillBowl(p.canvas, p.lens, 0, subject, radius * 0.88, p.seed + 31, p.r);
  const look = { thick: 0.026, leafLength: 0.042, bushy: 0.13, colours: hawthorn, bark: dull(0x4b4138) };
  const bough = boughsOf(
    { ...look, supple: [0.14, 0.24], frequency: [0.9, 1.6] },
    width,
    height,
    p.lens,
    p.r,
  );
  const plants: Plant[] = [
    bough('hawthorn', foliage, [-0.05, -0.04], [0.2, 0.12], [0.46, 0.16], 130),
    bough('hawthorn', foliage * 0.92, [-0.06, 0.06], [0.1, 0.28], [0.24, 0.4], 110),
    bough('hawthorn', foliage * 1.1, [0.3, -0.08], [0.5, 0.04], [0.74, 0.12], 110),
    bough('hawthorn', foliage * 0.8, [1.05, -0.05], [0.94, 0.1], [0.84, 0.26], 70),
  ];
  for (let i = 0; i < 9; i++) {
    const side = i % 2 === 0 ? -1 : 1;
    const z = subject * (i < 5 ? between(p.r, 1.25, 1.75) : between(p.r, 0.62, 0.8));
    plants.push(
      growTuft(
        {
          group: side < 0 ? 'left grass' : 'right grass',
          x: side * between(p.r, 0.42, 0.58) * z,
          z,
          spread: 0.16,
          tall: between(p.r, 0.22, 0.4),
          thick: 0.007,
          blades: 55,
          colours: [0x607a33, 0x8c9a4c, 0xb0a86a].map(dull),
          supple: 0.28,
          frequency: 1.6,
        },
        width,
        p.lens,
        p.r,
      ),
    );
  }
  const rim: Spot[] = Array.from({ length: 7 }, (_, i) => {
    const turn = (i / 7) * 2 * Math.PI + 0.3;
    return { x: Math.cos(turn) * radius * 0.95, y: 0.015, z: subject + Math.sin(turn) * radius * 0.95 };
  });
  return {
    plants,
    water,
    ways: {
      ground: { half: 0.6, near: subject * 0.78, far: subject * 1.35 },
      perches: [...rim, { x: -0.3, y: 0.66, z: far - 0.02 }, { x: 0.5, y: 0.65, z: far - 0.02 }],
      hides: [],
    },
  };
}

/** The rim of a stone bowl level with the ground. */
function paintBowl(p: Plot, x: number, z: number, radius: number): void {
  for (let py = Math.max(0, Math.ceil(p.lens.horizon + 1)); py < p.canvas.height; py++) {
    const pz = groundDistance(p.lens, py);
    for (let px = 0; px < p.canvas.width; px++) {
      const dx = ((px - p.lens.centre) * pz) / p.lens.focal - x;
      const dist = Math.hypot(dx, pz - z) / radius;
      if (dist > 1.09) continue;
      const grit = roughNoise(dx * 60, pz * 60, p.seed + 41, 3);
      const q = Math.min(1, (1.09 - dist) * 14);
      const lit = dist > 1 ? 0.45 : dist > 0.9 ? 1.1 - 0.25 * ((pz - z) / radius) : 0.5;
      stand(p, px, py, dull(0xa09686), lit * (0.6 + 0.6 * grit), q, Number.POSITIVE_INFINITY);
    }
  }
}
