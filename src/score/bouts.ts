/**
 * Seconds: triggers within such a stretch count as one bout, for a gust that fires the camera once will fire it again. An
 * assumption: gusts near the ground pass within some ten to twenty seconds.
 */
export const BOUT = 30;

/** Bunches of triggers: how many there are, and their sizes squared and added up. Both add up over clips. */
export interface Bouts {
  bouts: number;
  squares: number;
}

/** Gathers triggers into bouts, told their times in rising order. The first opens a bout, which holds all within BOUT seconds. */
export class BoutCounter implements Bouts {
  bouts = 0;
  squares = 0;
  private size = 0;
  private opened = Number.NEGATIVE_INFINITY;

  add(time: number): void {
    if (time - this.opened > BOUT) {
      this.opened = time;
      this.bouts++;
      this.size = 0;
    }
    this.squares += 2 * this.size + 1;
    this.size++;
  }

  clear(): void {
    this.bouts = 0;
    this.squares = 0;
    this.opened = Number.NEGATIVE_INFINITY;
  }
}

/** The bouts that some triggers come in. */
export function boutsOf(times: Iterable<number>): Bouts {
  const counter = new BoutCounter();
  for (const time of times) counter.add(time);
  return counter;
}

/**
 * What is new less what is gone, bout by bout: triggers that only one of two groups of settings has, in one clip. The first
 * that differs opens a bout, which holds whatever follows within BOUT seconds; so a shift of all times leaves bouts as
 * they are.
 */
export function boutBalances(added: readonly number[], gone: readonly number[]): number[] {
  const events = [
    ...added.map((time) => ({ time, sign: 1 })),
    ...gone.map((time) => ({ time, sign: -1 })),
  ].sort((a, b) => a.time - b.time);
  const balances: number[] = [];
  let opened = Number.NEGATIVE_INFINITY;
  for (const { time, sign } of events) {
    if (time - opened > BOUT) {
      opened = time;
      balances.push(0);
    }
    balances[balances.length - 1] = (balances.at(-1) as number) + sign;
  }
  return balances;
}
