import { expect, it } from 'vitest';
import { commandIn } from '../support/command.js';

const perchmark = commandIn('.');

it.each([
  ['completion', [], "missing required argument 'shell'; add it, as --help shows"],
  ['completion', ['powershell'], "shell 'powershell' is invalid. Allowed choices are bash, zsh, fish."],
])('%s %j says in one line what to do', async (verb, args, line) => {
  expect(await perchmark(verb, ...args)).toEqual({ code: 2, out: '', err: `perchmark: ${line}\n` });
});
