import type { Random } from '../../base/random.js';
import type { Chances } from './chance.js';
import type { Tries } from './tries.js';

/** What it is worth to know more, in photos of nothing. */
export interface Value {
  /** The setting that is worth most by what is known and likely. */
  best: number;
  /** For each unknown row, what it is worth on average to be told what it is, before one chooses. */
  rows: Float64Array;
  /** For each unknown row, how much it moves the choice when all the others are told too. */
  pulls: Float64Array;
  /** What it is worth on average to be told all of them. */
  all: number;
  /** How likely they are to make another setting worth more by as much as matters. */
  changes: number;
  /** No label of what is left, whatever they turn out to be, would make another setting worth more. */
  settled: boolean;
}

/** Ways in which the unknown rows may turn out, drawn to know what all of them are worth. */
const DRAWS = 200;

/**
 * The value of information (Howard 1966, IEEE Transactions on Systems Science and Cybernetics 2:22-26): a choice made after
 * an answer is on average worth more than one made before, by as much as the answer may change it. An unknown row counts
 * until then as what it is on average: the share of an animal, the rest of nothing. One answer by itself may change nothing
 * where several would, so what all of them are worth is told too, by draws; these keep in that the share of animals is not
 * known either.
 * @param sizes the size class of each unknown row
 * @param changing photos of nothing by which another setting must be worth more to matter
 */
export function valueOfAnswers(
  tries: Tries,
  sizes: readonly number[],
  likely: Chances,
  changing: number,
  random: Random,
): Value {
  const chances = Float64Array.from(sizes, (size) => likely.of(size));
  const expected = expectedOf(tries, chances);
  const best = highest(expected);
  const rows = Float64Array.from(chances, (chance, row) => valueOfRow(tries, row, chance, expected, best));
  return { best, rows, ...valueOfAll(tries, { chances, sizes, likely }, best, changing, random) };
}

/** The place of the highest, the first of several. */
function highest(values: Float64Array): number {
  let best = 0;
  for (let i = 1; i < values.length; i++) if (values[i]! > values[best]! + 1e-9) best = i;
  return best;
}

function expectedOf({ known, animal, nothing }: Tries, chances: Float64Array): Float64Array {
  const expected = Float64Array.from(known);
  chances.forEach((chance, row) => {
    const [yes, no] = [animal[row]!, nothing[row]!];
    for (let s = 0; s < expected.length; s++) expected[s]! += chance * yes[s]! + (1 - chance) * no[s]!;
  });
  return expected;
}

function valueOfRow(
  { animal, nothing }: Tries,
  row: number,
  chance: number,
  expected: Float64Array,
  best: number,
): number {
  const [yes, no] = [animal[row]!, nothing[row]!];
  let mostIfAnimal = Number.NEGATIVE_INFINITY;
  let mostIfNothing = Number.NEGATIVE_INFINITY;
  for (let s = 0; s < expected.length; s++) {
    const turn = yes[s]! - no[s]!;
    mostIfAnimal = Math.max(mostIfAnimal, expected[s]! + (1 - chance) * turn);
    mostIfNothing = Math.max(mostIfNothing, expected[s]! - chance * turn);
  }
  return Math.max(0, chance * mostIfAnimal + (1 - chance) * mostIfNothing - expected[best]!);
}

function valueOfAll(
  tries: Tries,
  { chances, sizes, likely }: { chances: Float64Array; sizes: readonly number[]; likely: Chances },
  best: number,
  changing: number,
  random: Random,
): Omit<Value, 'best' | 'rows'> {
  const pulls = new Float64Array(chances.length);
  const rivals = rivalsOf(tries, best);
  if (rivals.length === 0) return { all: 0, changes: 0, pulls, settled: true };
  // The best stands first, and only those that can come before it are drawn for.
  const kept = Int32Array.from([best, ...rivals]);
  const known = Float64Array.from(kept, (s) => tries.known[s]!);
  const [animal, nothing] = [tries.animal, tries.nothing].map((gains) =>
    gains.map((of) => Float32Array.from(kept, (s) => of[s]!)),
  ) as [Float32Array[], Float32Array[]];
  let all = 0;
  let changes = 0;
  const worth = new Float64Array(kept.length);
  for (let draw = 0; draw < DRAWS; draw++) {
    worth.set(known);
    const urn = likely.copy();
    const turned = sizes.map((size, row) => {
      const isAnimal = random() < urn.of(size);
      urn.add(size, isAnimal);
      return isAnimal ? animal[row]! : nothing[row]!;
    });
    for (const gains of turned) for (let s = 0; s < worth.length; s++) worth[s]! += gains[s]!;
    const then = highest(worth);
    const gain = worth[then]! - worth[0]!;
    all += gain / DRAWS;
    changes += Number(gain >= changing) / DRAWS;
    turned.forEach((gains, row) => {
      const chance = chances[row]!;
      const turn = (s: number) => gains[s]! - chance * animal[row]![s]! - (1 - chance) * nothing[row]![s]!;
      pulls[row]! += Math.max(0, turn(then) - turn(0)) / DRAWS;
    });
  }
  return { all, changes, pulls, settled: false };
}

/** The settings that some way for all rows to turn out would make worth more than the best. */
function rivalsOf({ size, known, animal, nothing }: Tries, best: number): number[] {
  const lead = Float64Array.from({ length: size }, (_, s) => known[best]! - known[s]!);
  animal.forEach((yes, row) => {
    const no = nothing[row]!;
    for (let s = 0; s < size; s++) lead[s]! -= Math.max(yes[s]! - yes[best]!, no[s]! - no[best]!);
  });
  return Array.from(lead.keys()).filter((s) => lead[s]! < -1e-6);
}
