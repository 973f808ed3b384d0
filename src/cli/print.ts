import { printedJson } from '../base/text.js';
import { say } from '../files/stdout.js';
import type { TerminalPorts } from './progress.js';
import { shown } from './terminal.js';

/** Prints a result: one JSON document with --json, else text for people. Nothing that a name holds acts on the terminal. */
export function print(
  { json }: { json?: true },
  ports: Pick<TerminalPorts, 'clear'>,
  document: () => unknown,
  text: () => string,
): void {
  ports.clear();
  say(json ? printedJson(document()) : `${shown(text())}\n`);
}
