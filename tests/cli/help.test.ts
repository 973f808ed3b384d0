import { expect, it } from 'vitest';
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
