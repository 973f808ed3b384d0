import { setTimeout as pause } from 'node:timers/promises';

/** So many acts are going on that must not end half-way. */
let going = 0;
/** What ends the process, once nothing is half-way. */
let ending: (() => void) | null = null;
/** What such acts made. */
const made: string[] = [];

/**
 * An act that a signal does not end half-way, for what it leaves is only of use together: a folder in its place, and the file
 * that names it.
 * @param path what it makes, told to whoever ends the process afterwards
 * @throws whatever `act` throws
 */
export async function undivided<T>(path: string, act: () => Promise<T>): Promise<T> {
  going++;
  try {
    const result = await act();
    made.push(path);
    return result;
  } finally {
    going--;
    if (going === 0) ending?.();
  }
}

/** What is given back before the process ends, where others wait for it. */
const toGiveBack = new Set<() => Promise<unknown>>();
/**
 * How long it may take, in turns of so many milliseconds: whoever asked for the end does not wait for ever for a server that is
 * away, and what runs containers kills them after 10 s. In each turn answers are heard, however long something else has kept
 * this thread before.
 */
const TURNS = 80;
const TURN = 100;

/**
 * Has something given back before a signal ends the process: what others would else wait for.
 * @returns what undoes that
 */
export function giveBackBeforeEnd(act: () => Promise<unknown>): () => void {
  toGiveBack.add(act);
  return () => toGiveBack.delete(act);
}

/** Ends the process now, or as soon as nothing is half-way; `end` is told what was made whole. */
export function endUndivided(end: (made: readonly string[]) => void): void {
  ending = () => {
    if (toGiveBack.size === 0) return end(made);
    const given = Promise.allSettled([...toGiveBack].map((act) => act()));
    void Promise.race([given, someTurns()]).then(() => end(made));
  };
  if (going === 0) ending();
}

async function someTurns(): Promise<void> {
  for (let turn = 0; turn < TURNS; turn++) await pause(TURN);
}
