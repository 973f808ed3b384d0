import type { Net } from './warp.js';

/** Share of a picture element's signal that a clump of leaves takes in full sun; assumed. */
const DAPPLE = 0.3;

/** Metres: the width of a spot of shade, and how far from foliage shade falls, twice as far below it; assumed. */
const SPOT = 0.25;
const NEAR = 0.8;

/** Share of the light that comes straight from the sun: none in an overcast day, most of it in bright sun; assumed. */
export function sunShare(lux: number): number {
  return 0.7 * Math.min(1, Math.max(0, Math.log(lux / 5000) / Math.log(6)));
}

/** Spots of shade under foliage, carried to and fro by the branches that cast them. */
export class Dapple {
  readonly #nodes: Uint32Array;
  /** Of each of the nodes: how much shade may fall, and which branch casts it. */
  readonly #share: Float32Array;
  readonly #caster: Uint32Array;
  /** How dark the shade is over the whole net, 0..1. */
  readonly #shade: Float32Array;

  /**
   * @param foliage how much there is at each crossing of the net, 0..1
   * @param scale pixels per metre at the foliage
   * @param casters number of branches; which of them casts a spot is left to chance
   */
  constructor(net: Net, foliage: Float32Array, scale: number, casters: number, random: () => number) {
    const reach = (NEAR * scale) / net.mesh;
    const far = distances(net, foliage);
    this.#nodes = Uint32Array.from(foliage.keys()).filter((i) => far[i]! < reach && foliage[i]! < 1);
    this.#share = Float32Array.from(this.#nodes, (i) => (1 - foliage[i]!) * (1 - far[i]! / reach));
    const spot = Math.max(1, (SPOT * scale) / net.mesh);
    this.#shade = spots(net, spot, random);
    const across = Math.ceil(net.columns / spot) + 1;
    const caster = Uint32Array.from({ length: across * (Math.ceil(net.rows / spot) + 1) }, () =>
      Math.floor(random() * casters),
    );
    this.#caster = this.#nodes.map((i) => {
      const [x, y] = [i % net.columns, Math.floor(i / net.columns)];
      return caster[Math.floor(y / spot) * across + Math.floor(x / spot)]!;
    });
  }

  /**
   * @param moved pixels by which each branch's tip is moved across
   * @param sun share of the light that is direct
   */
  add(net: Net, moved: ArrayLike<number>, sun: number): void {
    const [nodes, share, caster, shade] = [this.#nodes, this.#share, this.#caster, this.#shade];
    const { gain, columns, mesh } = net;
    for (let n = 0; n < nodes.length; n++) {
      const node = nodes[n]!;
      const column = node % columns;
      const x = Math.min(columns - 1.001, Math.max(0, column - moved[caster[n]!]! / mesh));
      const whole = Math.floor(x);
      const i = node - column + whole;
      const here = shade[i]! + (shade[i + 1]! - shade[i]!) * (x - whole);
      const deep = DAPPLE * sun * share[n]!;
      // The recording holds the shade at rest already.
      gain[node]! *= (1 - deep * here) / (1 - deep * shade[node]!);
    }
  }
}

/** Meshes from each crossing to foliage, those upwards counting half: two sweeps of city-block distance. */
function distances(net: Net, foliage: Float32Array): Float32Array {
  const { columns, rows } = net;
  const far = foliage.map((f) => (f > 0.5 ? 0 : Number.POSITIVE_INFINITY));
  const reach = (i: number, from: number, cost: number) => {
    far[i] = Math.min(far[i]!, far[from]! + cost);
  };
  for (let i = 0; i < far.length; i++) {
    if (i % columns > 0) reach(i, i - 1, 1);
    if (i >= columns) reach(i, i - columns, 0.5);
  }
  for (let i = columns * rows - 1; i >= 0; i--) {
    if (i % columns < columns - 1) reach(i, i + 1, 1);
    if (i < columns * (rows - 1)) reach(i, i + columns, 1);
  }
  return far;
}

/** Smooth random spots, 0..1, each about `size` meshes wide. */
function spots(net: Net, size: number, random: () => number): Float32Array {
  const across = Math.ceil(net.columns / size) + 2;
  const dark = Float32Array.from({ length: across * (Math.ceil((2 * net.rows) / size) + 2) }, () => random());
  return Float32Array.from({ length: net.columns * net.rows }, (_, i) => {
    const x = (i % net.columns) / size;
    // Seen from the side, shade on the ground is flat.
    const y = (2 * Math.floor(i / net.columns)) / size;
    const j = Math.floor(y) * across + Math.floor(x);
    const upper = dark[j]! + (dark[j + 1]! - dark[j]!) * (x % 1);
    const lower = dark[j + across]! + (dark[j + across + 1]! - dark[j + across]!) * (x % 1);
    const mean = upper + (lower - upper) * (y % 1);
    return Math.min(1, Math.max(0, 2 * mean - 0.5));
  });
}
