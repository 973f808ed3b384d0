import { assumptionOf } from '../assumptions.js';
import type { Net } from './warp.js';

/** How much brighter and darker a leaf turns as it flutters, in full flutter, as assumed: `level` holds what is doubted of it. */
const FLUTTER = assumptionOf('flutter').figure;

/** Radians by which it turns about its stalk, in full flutter, so that its edges move too; assumed. */
const TURN = 0.4;

/** Metres per second among the leaves at which flutter is full, and the power with which it gets there; assumed. */
const FULL = 2.5;
const POWER = 0.5;

/** Metres and hertz; assumed. */
const LEAF = 0.06;
const SLOW = 1.7;
const QUICK = 4.6;

/** Grey levels of unevenness from which a place counts as leaves, and at which wholly: plain sky in an outline has none. */
const PLAIN = 4;
const LEAFY = 14;

/**
 * How much leaves flutter in a wind, 0..1: it sets in at once, depends weakly on the wind and is soon full, so that it
 * rules while branches hardly move, and they rule in a stronger wind (Tadrist et al. 2018, J. R. Soc. Interface
 * 15:20180010; the power is ours, 0 to 1).
 *
 * @param speed metres per second among the leaves
 * @param growth the power, against what is assumed
 */
export function flutterLevel(speed: number, growth = 1): number {
  return Math.min(1, (speed / FULL) ** (POWER * growth));
}

/** Leaves that turn to and from the light on their own. */
export class Flutter {
  readonly #nodes: Uint32Array;
  readonly #leaf: Uint32Array;
  readonly #foliage: Float32Array;
  /** Pixels by which a leaf's edge moves in full flutter. */
  readonly #edge: number;
  readonly #frequency: Float32Array;
  readonly #phase: Float32Array;
  readonly #net: Net;
  /** How leafy each of the nodes looks, 0..1; known from the first picture on. */
  #leafy: Float32Array | undefined;

  /**
   * @param foliage how much there is at each crossing of the net, 0..1
   * @param scale pixels per metre at the foliage
   * @param rhythm frequencies against those assumed
   */
  constructor(net: Net, foliage: Float32Array, scale: number, random: () => number, rhythm = 1) {
    const size = Math.max(net.mesh, LEAF * scale);
    const across = Math.ceil(net.width / size) + 2;
    const down = Math.ceil(net.height / size) + 2;
    this.#nodes = Uint32Array.from(foliage.keys()).filter((i) => foliage[i]! > 0);
    // Rows of leaves are shifted by chance: no checks in the picture.
    const shift = Float32Array.from({ length: down }, () => random());
    this.#leaf = this.#nodes.map((i) => {
      const row = Math.floor((Math.floor(i / net.columns) * net.mesh) / size);
      return row * across + Math.floor(((i % net.columns) * net.mesh) / size + shift[row]!);
    });
    this.#net = net;
    this.#foliage = foliage;
    this.#edge = TURN * 0.5 * LEAF * scale;
    this.#frequency = Float32Array.from(
      { length: across * down },
      () => rhythm * (SLOW + (QUICK - SLOW) * random()),
    );
    this.#phase = Float32Array.from({ length: across * down }, () => 2 * Math.PI * random());
  }

  /**
   * @param level as of `flutterLevel`, times what leaves do here against what is assumed
   * @param time seconds
   * @param picture as recorded
   */
  add(level: number, time: number, picture: Float32Array): void {
    const net = this.#net;
    this.#leafy ??= Float32Array.from(this.#nodes, (node) => leafiness(net, picture, node));
    const [nodes, leaves, leafy, foliage] = [this.#nodes, this.#leaf, this.#leafy, this.#foliage];
    const [frequency, phase, edge] = [this.#frequency, this.#phase, this.#edge];
    const { gain, dx, dy } = net;
    for (let n = 0; n < nodes.length; n++) {
      const node = nodes[n]!;
      const leaf = leaves[n]!;
      const turn = Math.sin(2 * Math.PI * frequency[leaf]! * time + phase[leaf]!);
      const by = level * foliage[node]! * turn;
      gain[node]! *= 1 + FLUTTER * by * leafy[n]!;
      dx[node]! += edge * by;
      dy[node]! += edge * by;
    }
  }
}

/** From the standard deviation of grey levels within one mesh of a crossing. */
function leafiness(net: Net, picture: Float32Array, node: number): number {
  const { mesh, width, height, columns } = net;
  const [middleX, middleY] = [(node % columns) * mesh, Math.floor(node / columns) * mesh];
  let [n, sum, squares] = [0, 0, 0];
  for (let y = Math.max(0, middleY - mesh); y < Math.min(height, middleY + mesh); y++) {
    for (let x = Math.max(0, middleX - mesh); x < Math.min(width, middleX + mesh); x++) {
      const v = picture[y * width + x]!;
      n++;
      sum += v;
      squares += v * v;
    }
  }
  const deviation = n === 0 ? 0 : Math.sqrt(Math.max(0, squares / n - (sum / n) ** 2));
  return Math.min(1, Math.max(0, (deviation - PLAIN) / (LEAFY - PLAIN)));
}
