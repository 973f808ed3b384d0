import { InvalidArgumentError } from 'commander';

/** A parser of whole numbers from `low` to `high`; `what` names them in messages. */
export function wholeBetween(low: number, high: number, what: string): (text: string) => number {
  const parse = between(low, high, what);
  return (text) => {
    const value = parse(text);
    if (Number.isInteger(value)) return value;
    throw new InvalidArgumentError(`Expected ${what} from ${low} to ${high}.`);
  };
}

/** A parser of numbers from `low` to `high`; `what` names them in messages. */
export function between(low: number, high: number, what: string): (text: string) => number {
  return (text) => {
    const value = Number(text);
    if (text.trim() !== '' && value >= low && value <= high) return value;
    throw new InvalidArgumentError(`Expected ${what} from ${low} to ${high}.`);
  };
}

/** What may be, of false triggers or photos. */
export const atLeastNone = between(0, 1_000_000, 'a number');
/** Hours of a day that a camera is out. */
export const hoursADay = between(0.01, 24, 'a number of hours');
