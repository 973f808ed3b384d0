import { figureOf } from '../assumptions.js';

/** Density of air at 15 degrees C, kg/m3 (ISO 2533). */
const AIR = 1.225;

/** How wind pulls at branches. */
export interface DragLaw {
  /** Drag area for each mass, C A / m, m2/kg. */
  area: number;
  /** E, below 0: what is missing to the square of the speed in strong wind. */
  vogel: number;
  /** The wind, m/s at the branch, around which one law goes over into the other. */
  givesWay: number;
}

/** The law as assumed, but for what is doubted. */
export function dragLaw(doubted: Parameters<typeof figureOf>[0] = {}): DragLaw {
  return {
    area: figureOf(doubted, 'sway'),
    vogel: -figureOf(doubted, 'giving way'),
    givesWay: figureOf(doubted, 'speed of giving way'),
  };
}

/**
 * Acceleration that a wind gives the leafy end of a branch, m/s2: quasi-steady drag over mass, rho (C A / m) u^2 / 2, which
 * grows as u^2 in light wind; where leaves and twigs give way it grows as u^(2 + E), E the Vogel exponent (Vogel 1989, J. Exp.
 * Bot. 40:941-948; values of E from memory).
 *
 * @param speed metres per second at the branch
 */
export function drag(speed: number, { area, vogel, givesWay }: DragLaw): number {
  const q = (speed / givesWay) ** 2;
  return 0.5 * AIR * area * speed * speed * (1 + q) ** (vogel / 2);
}

/** Metres per second between two entries of a table, and its end: no gust goes beyond. */
const APART = 0.02;
const FASTEST = 80;

/** `drag` by table and straight lines between its entries, for thousands of branches at each step. */
export function dragTable(law: DragLaw): (speed: number) => number {
  const table = Float64Array.from({ length: FASTEST / APART + 2 }, (_, i) => drag(i * APART, law));
  return (speed) => {
    const at = Math.min(FASTEST, speed) / APART;
    const i = Math.floor(at);
    return table[i]! + (table[i + 1]! - table[i]!) * (at - i);
  };
}

/** The power of the speed with which drag grows at a speed: 2 in light wind, 2 + E in strong. */
export function dragGrowth(speed: number, { vogel, givesWay }: DragLaw): number {
  const q = (speed / givesWay) ** 2;
  return 2 + (vogel * q) / (1 + q);
}

/**
 * Metres that a branch's tip is held off its rest by a steady acceleration: that of a spring of its own frequency.
 * @param frequency hertz
 */
export function deflection(acceleration: number, frequency: number): number {
  return acceleration / (2 * Math.PI * frequency) ** 2;
}
