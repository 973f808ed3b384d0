import { expect } from 'vitest';
import { machine } from '../measure.js';

/** What so many of something cost, seconds of processor time of all threads. */
export interface Point {
  amount: number;
  seconds: number;
}

/** Of each amount the median of some rounds, all amounts in turn in each, after one round that does not count. */
export async function grown(
  amounts: readonly number[],
  run: (amount: number, round: number) => Promise<unknown>,
  rounds = 3,
): Promise<Point[]> {
  const taken = amounts.map((): number[] => []);
  for (let round = 0; round <= rounds; round++) {
    for (const [i, amount] of amounts.entries()) {
      const before = process.cpuUsage();
      await run(amount, round);
      const { user, system } = process.cpuUsage(before);
      if (round > 0) taken[i]!.push((user + system) / 1e6);
    }
  }
  return amounts.map((amount, i) => ({ amount, seconds: taken[i]!.toSorted((a, b) => a - b)[rounds >> 1]! }));
}

/**
 * Prints a curve, and holds it to a straight line: from one amount to the next each one more costs no more than so many times what it
 * cost from the one before. A start that costs the same whatever the amount is no growth.
 * @param most times; what is steeper grows faster than the amount
 */
export function holdStraight(what: string, of: string, points: readonly Point[], most: number): void {
  process.stdout.write(`\n${what}\n  ${machine()}\n`);
  let before: number | null = null;
  for (const [i, { amount, seconds }] of points.entries()) {
    const last = points[i - 1] ?? { amount: 0, seconds: 0 };
    const each = (seconds - last.seconds) / (amount - last.amount);
    process.stdout.write(
      `  ${String(amount).padStart(9)} ${of}  ${seconds.toFixed(2).padStart(8)} s  ${(1e6 * each).toFixed(1).padStart(12)} us for each more\n`,
    );
    if (before !== null && before > 0)
      expect.soft(each / before, `${what}: ${amount} ${of}`).toBeLessThan(most);
    before = each;
  }
}
