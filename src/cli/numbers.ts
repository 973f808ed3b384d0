import { InvalidArgumentError } from 'commander';
import { MOST_ALLOWED, mayBeAllowed, RAREST_ALLOWED } from '../tune/goal.js';

/** A parser of whole numbers from `low` to `high`; `what` names them in messages. */
export function wholeBetween(low: number, high: number, what: string): (text: string) => number {
  const parse = between(low, high, what);
  return (text) => {
    const value = parse(text);
    if (Number.isInteger(value)) return value;
    throw new InvalidArgumentError(`Expected ${what} from ${low} to ${high}.`);
  };
}

/** 12, -0.5, 1e6: not 0x10, which nobody means. */
const PLAIN = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;

/** A parser of numbers from `low` to `high`; `what` names them in messages. */
export function between(low: number, high: number, what: string): (text: string) => number {
  return (text) => {
    const value = PLAIN.test(text.trim()) ? Number(text) : Number.NaN;
    if (value >= low && value <= high) return value;
    throw new InvalidArgumentError(`Expected ${what} from ${low} to ${high}.`);
  };
}

const anyRate = between(0, MOST_ALLOWED, 'a number');

/** A parser of how many false triggers an hour, or photos a day, may be. */
export function atLeastNone(text: string): number {
  const value = anyRate(text);
  if (mayBeAllowed(value)) return value;
  throw new InvalidArgumentError(`Expected 0, or a number from ${RAREST_ALLOWED} to ${MOST_ALLOWED}.`);
}

/** Hours of a day that a camera is out. */
export const hoursADay = between(0.01, 24, 'a number of hours');
