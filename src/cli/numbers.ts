import { InvalidArgumentError } from 'commander';

/** A parser of numbers from `low` to `high`; `what` names them in messages. */
export function between(low: number, high: number, what: string): (text: string) => number {
  return (text) => {
    const value = Number(text);
    if (text.trim() !== '' && value >= low && value <= high) return value;
    throw new InvalidArgumentError(`Expected ${what} from ${low} to ${high}.`);
  };
}
