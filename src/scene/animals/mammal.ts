import { type Colour, dull, scaled, screen } from '../colour.js';
import type { Pose } from './bird.js';
import type { Part } from './sprite.js';

const eye = screen(0x090808);

/** A wood mouse in side view, head and body one length; the thin tail comes on top of that. */
export function mouse(pose: Pose): Part[] {
  const fur = dull(0x7d6242);
  const belly = screen(0xa59a88);
  const low = pose.kind === 'peck' ? -0.05 : 0;
  const stretch = pose.kind === 'run' ? 0.02 * pose.beat : 0;
  return [
    { x: -0.68, y: 0.07 + stretch, a: 0.3, b: 0.018, turn: 0.08, colour: screen(0x6b5a4b) },
    { x: 0.2, y: 0.05, a: 0.07, b: 0.03, turn: 0, colour: scaled(belly, 0.7) },
    { x: -0.22 - stretch, y: 0.05, a: 0.1, b: 0.035, turn: 0, colour: scaled(belly, 0.7) },
    { x: -0.12, y: 0.21, a: 0.36, b: 0.19, turn: 0.05, colour: fur, barred: 0.1 },
    { x: -0.2, y: 0.2, a: 0.2, b: 0.17, turn: 0, colour: scaled(fur, 0.85) },
    { x: 0, y: 0.1, a: 0.3, b: 0.07, turn: 0, colour: belly },
    { x: 0.28, y: 0.24 + low, a: 0.17, b: 0.12, turn: -0.25, colour: fur },
    { x: 0.44, y: 0.19 + low, a: 0.06, b: 0.045, turn: -0.25, colour: scaled(fur, 1.15) },
    { x: 0.2, y: 0.38 + low, a: 0.075, b: 0.1, turn: 0.5, colour: dull(0x8c7562) },
    { x: 0.33, y: 0.28 + low, a: 0.028, b: 0.028, turn: 0, colour: eye },
  ];
}

/** A hedgehog in side view: a dome of spines, a paler face and skirt. */
export function hedgehog(pose: Pose): Part[] {
  const spines = dull(0x5f503e);
  const face: Colour = dull(0x8b7558);
  const low = pose.kind === 'peck' ? -0.06 : 0;
  const step = pose.kind === 'run' ? 0.04 * pose.beat : 0;
  const parts: Part[] = [
    { x: 0.2 + step, y: 0.05, a: 0.06, b: 0.05, turn: 0, colour: screen(0x3d3126) },
    { x: -0.25 - step, y: 0.05, a: 0.06, b: 0.05, turn: 0, colour: screen(0x3d3126) },
    { x: -0.05, y: 0.14, a: 0.4, b: 0.12, turn: 0, colour: dull(0x6e5c46) },
    { x: -0.08, y: 0.28, a: 0.42, b: 0.25, turn: 0, colour: spines, barred: 0.12, spotted: 0.5 },
    { x: 0.33, y: 0.17 + low, a: 0.15, b: 0.11, turn: -0.3, colour: face },
    { x: 0.45, y: 0.12 + low, a: 0.06, b: 0.035, turn: -0.3, colour: scaled(face, 0.7) },
    { x: 0.25, y: 0.26 + low, a: 0.04, b: 0.05, turn: 0, colour: screen(0x6b5640) },
    { x: 0.36, y: 0.2 + low, a: 0.018, b: 0.018, turn: 0, colour: eye },
  ];
  // Spines break the outline.
  for (let i = 0; i < 13; i++) {
    const turn = 0.25 + (i / 12) * 2.7;
    const pale = i % 2 === 0 ? 1.5 : 0.7;
    parts.push({
      x: -0.08 + 0.42 * Math.cos(turn),
      y: 0.28 + 0.25 * Math.sin(turn),
      a: 0.055,
      b: 0.014,
      turn: turn + 0.5,
      colour: scaled(spines, pale),
    });
  }
  return parts;
}
