import type { Command } from 'commander';
import { Problem } from '../base/problem.js';

/**
 * Refuses an option with a value that is given twice, of which the last would count without a word; options that gather what they
 * are given are left alone.
 * @param gather names of those, as they stand in the options
 */
export function eachOnce(command: Command, gather: readonly string[] = ['camera']): void {
  for (const option of command.options) {
    if (option.isBoolean() || option.negate || gather.includes(option.attributeName())) continue;
    let before: string | undefined;
    command.on(`option:${option.name()}`, (value: string) => {
      if (before !== undefined && before !== value) {
        throw new Problem(
          'usage',
          `${option.long}: expected once, found ${before} and ${value}; leave one of them out`,
        );
      }
      before = value;
    });
  }
  for (const inner of command.commands) eachOnce(inner, gather);
}
