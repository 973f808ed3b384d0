import { dull, screen } from '../colour.js';
import type { SpeciesName } from '../spec.js';
import { type BirdLook, bird, type Pose } from './bird.js';
import { hedgehog, mouse } from './mammal.js';
import type { Part } from './sprite.js';

/** How an animal looks and gets about. */
export interface Species {
  /**
   * Metres: bill to tail, or head and body; the middle of the range in bird and mammal guides (wren and house sparrow
   * from memory).
   */
  length: number;
  parts(pose: Pose): Part[];
  flies: boolean;
  /** On foot: in hops or steps, m/s. */
  gait: 'hop' | 'walk';
  pace: number;
  /** Goes to raised places. */
  perches: boolean;
  /** The most that come together. */
  flock: number;
}

const legs = screen(0x6a4b3a);

const wren: BirdLook = {
  back: dull(0x6f4f33),
  wing: dull(0x644529),
  breast: dull(0x9a7d5d),
  crown: dull(0x6a4a2f),
  cheek: dull(0xa88c68),
  throat: dull(0xb09a7a),
  bill: screen(0x54402e),
  leg: legs,
  tail: dull(0x5f4128),
  tailLength: 0.26,
  billLength: 0.11,
  plump: 1.25,
  legs: 0.13,
  cocked: 1.1,
  barred: 0.14,
};

const sparrow: BirdLook = {
  back: dull(0x6b4d36),
  wing: dull(0x6a4529),
  breast: dull(0x8f877b),
  crown: dull(0x75706a),
  cheek: dull(0x9b948a),
  throat: dull(0x2b2622),
  bill: screen(0x3a332c),
  leg: legs,
  tail: dull(0x54402f),
  tailLength: 0.3,
  billLength: 0.08,
  plump: 1.15,
  legs: 0.11,
  cocked: 0.05,
  barred: 0.1,
  marks: [{ x: 0.02, y: 0.06, a: 0.05, b: 0.015, turn: 0.9, colour: screen(0xb0a898) }],
};

const blackbird: BirdLook = {
  back: dull(0x1d1b1a),
  wing: dull(0x191716),
  breast: dull(0x24211f),
  crown: dull(0x1c1a19),
  cheek: dull(0x201d1b),
  throat: dull(0x231f1d),
  bill: screen(0xdc9426),
  leg: screen(0x4a3a2c),
  tail: dull(0x141312),
  tailLength: 0.38,
  billLength: 0.1,
  plump: 1,
  legs: 0.13,
  cocked: 0.12,
};

const starling: BirdLook = {
  back: dull(0x2a2a30),
  wing: dull(0x3a322b),
  breast: dull(0x25262e),
  crown: dull(0x26262d),
  cheek: dull(0x2c2c36),
  throat: dull(0x2b2a33),
  bill: screen(0xc0a84a),
  leg: screen(0x8a5a40),
  tail: dull(0x2b2723),
  tailLength: 0.26,
  billLength: 0.13,
  plump: 1,
  legs: 0.14,
  cocked: -0.1,
  spotted: 1.6,
};

const moorhen: BirdLook = {
  back: dull(0x3a3127),
  wing: dull(0x3d3328),
  breast: dull(0x2b3038),
  crown: dull(0x22252b),
  cheek: dull(0x262a30),
  throat: dull(0x272b31),
  bill: screen(0xc0301f),
  leg: screen(0x7d8040),
  tail: dull(0x2a261f),
  tailLength: 0.22,
  billLength: 0.1,
  plump: 1.12,
  legs: 0.15,
  cocked: 0.6,
  marks: [
    { x: 0.03, y: -0.01, a: 0.17, b: 0.014, turn: -0.1, colour: screen(0xd9d9d2) },
    { x: -0.3, y: 0, a: 0.05, b: 0.04, turn: 0, colour: screen(0xe2e2dc) },
  ],
};

const flier = { flies: true, perches: true } as const;

export const allSpecies: Record<SpeciesName, Species> = {
  wren: { ...flier, length: 0.095, parts: (p) => bird(wren, p), gait: 'hop', pace: 0.5, flock: 1 },
  'house sparrow': {
    ...flier,
    length: 0.145,
    parts: (p) => bird(sparrow, p),
    gait: 'hop',
    pace: 0.5,
    flock: 3,
  },
  blackbird: { ...flier, length: 0.245, parts: (p) => bird(blackbird, p), gait: 'hop', pace: 0.9, flock: 1 },
  starling: { ...flier, length: 0.21, parts: (p) => bird(starling, p), gait: 'walk', pace: 0.5, flock: 3 },
  moorhen: {
    flies: false,
    perches: false,
    length: 0.335,
    parts: (p) => bird(moorhen, p),
    gait: 'walk',
    pace: 0.35,
    flock: 1,
  },
  'wood mouse': {
    flies: false,
    perches: false,
    length: 0.095,
    parts: mouse,
    gait: 'walk',
    pace: 0.7,
    flock: 1,
  },
  hedgehog: {
    flies: false,
    perches: false,
    length: 0.25,
    parts: hedgehog,
    gait: 'walk',
    pace: 0.16,
    flock: 1,
  },
};
