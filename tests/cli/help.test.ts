import type { Command } from 'commander';
import { expect, it } from 'vitest';
import { withNeeded } from '../../src/cli/needed.js';
import { programFor, wholeProgram } from '../../src/cli/verbs.js';

it.each([[[]], [['--help']], [['-h']], [['help']], [['no-such-verb']]])(
  'tells of all verbs what the whole program does, without loading them: %j',
  async (args) => {
    const whole = await wholeProgram();
    const told = await programFor(args);
    expect(told.helpInformation()).toBe(whole.helpInformation());
    expect(told.commands.flatMap(({ options }) => options)).toEqual([]);
  },
);

it.each([
  [['help', 'replay'], ['replay']],
  [['replay', '--help'], ['replay']],
])('loads the verb that is asked after, and no other: %j', async (args, expected) => {
  const { commands } = await programFor(args);
  expect(commands.map((command) => command.name())).toEqual(expected);
  expect(commands[0]!.options.length).toBeGreaterThan(0);
});

it('is whole where a verb may stand behind an option', async () => {
  const { commands } = await programFor(['--help', 'replay']);
  expect(commands.every(({ options, commands: inner }) => options.length + inner.length > 0)).toBe(true);
});

it('tells of every option that a verb needs how it is given, where it is left out', async () => {
  const all = ({ commands }: Command): Command[] => commands.flatMap((one) => [one, ...all(one)]);
  const needed = all(await wholeProgram())
    .flatMap(({ options }) => options)
    .filter(({ mandatory }) => mandatory);
  expect(needed.length).toBeGreaterThan(0);
  for (const { flags, long } of needed) {
    const told = withNeeded(`required option '${flags}' not specified`);
    expect(told).toMatch(new RegExp(`not specified; add it, such as ${long} \\S+$`));
  }
});
