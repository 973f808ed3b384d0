import { spawnSync } from 'node:child_process';
import type { Timing } from './measure.js';

/** What a command and its children took: processor and wall time, milliseconds. */
export interface Taken {
  processor: number;
  wall: number;
}

/** Runs a command to its end, its output thrown away. Needs bash, whose own clock counts children too. */
export function taken(command: readonly string[], env: Record<string, string> = {}): Taken {
  const timed = `TIMEFORMAT='%U %S %R'; exec 3>&2; { time "$@" >/dev/null 2>&3; } 2>&1`;
  const ran = spawnSync('bash', ['-c', timed, 'bash', ...command], {
    encoding: 'utf8',
    env: { ...process.env, ...env, LC_ALL: 'C' },
  });
  if (ran.status !== 0) throw new Error(`${command.join(' ')}: ${ran.stderr}`);
  const [user, system, wall] = ran.stdout.trim().split(' ').map(Number) as [number, number, number];
  return { processor: 1000 * (user + system), wall: 1000 * wall };
}

/** Runs several commands in turn, so that whatever else the machine does falls on all of them alike. */
export function takenInTurn<Name extends string>(
  commands: Record<Name, () => Taken>,
  rounds: number,
): Record<Name, Record<keyof Taken, Timing>> {
  const all = Object.entries<() => Taken>(commands).map(([name, run]) => ({
    name,
    run,
    times: [] as Taken[],
  }));
  for (let round = 0; round < rounds; round++) for (const { run, times } of all) times.push(run());
  return Object.fromEntries(
    all.map(({ name, times }) => [
      name,
      { processor: spread(times.map((one) => one.processor)), wall: spread(times.map((one) => one.wall)) },
    ]),
  ) as Record<Name, Record<keyof Taken, Timing>>;
}

/** The median, and all of the rest: they are few. */
function spread(times: number[]): Timing {
  const sorted = times.toSorted((a, b) => a - b);
  return { median: sorted[sorted.length >> 1]!, low: sorted[0]!, high: sorted.at(-1)! };
}
