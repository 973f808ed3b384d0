import { cpus } from 'node:os';

/** What a subject took over many rounds, in milliseconds: the median and the middle 80 %. */
export interface Timing {
  readonly median: number;
  readonly low: number;
  readonly high: number;
}

/**
 * Times several subjects against one another: after warming each up, every round runs each once, so that whatever
 * else the machine does falls on all of them alike. A subject that gives a promise is timed until that is kept.
 * @param options `now` is the clock, milliseconds: that on the wall, or `processorTime`
 */
export async function measure<Name extends string>(
  subjects: Record<Name, () => unknown>,
  { warmUp = 10, rounds = 40, now = () => performance.now() } = {},
): Promise<Record<Name, Timing>> {
  const entries = Object.entries<() => unknown>(subjects);
  const times = entries.map((): number[] => []);
  for (let round = -warmUp; round < rounds; round++) {
    for (const [i, [, run]] of entries.entries()) {
      const start = now();
      await run();
      if (round >= 0) times[i]!.push(now() - start);
    }
  }
  return Object.fromEntries(entries.map(([name], i) => [name, timing(times[i]!)])) as Record<Name, Timing>;
}

/** Milliseconds that all threads of this process took of any core: what else the machine does hardly counts. */
export function processorTime(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

function timing(times: number[]): Timing {
  const sorted = times.toSorted((a, b) => a - b);
  const at = (part: number) => sorted[Math.round(part * (sorted.length - 1))]!;
  return { median: at(0.5), low: at(0.1), high: at(0.9) };
}

/** Prints a table of timings, each divided by `per` to give what one frame took. */
export function print(title: string, rows: Record<string, Timing>, per = 1): void {
  const width = Math.max(...Object.keys(rows).map((name) => name.length));
  const lines = Object.entries(rows).map(([name, { median, low, high }]) => {
    const [m, l, h] = [median, low, high].map((value) => (value / per).toFixed(3));
    return `  ${name.padEnd(width)}  ${m!.padStart(8)} ms  (${l} to ${h})`;
  });
  process.stdout.write(`\n${title}\n  ${machine()}\n${lines.join('\n')}\n`);
}

/** Prints a ratio beside the limit it is held to. */
export function printRatio(what: string, ratio: number, limit: string): void {
  process.stdout.write(`  ${what}: ${ratio.toFixed(2)} (${limit})\n`);
}

/** The processor and the version of Node that figures were measured with. */
export function machine(): string {
  const processors = cpus();
  return `${processors.length} x ${processors[0]?.model ?? 'unknown processor'}, Node ${process.version}`;
}
