import type { TerminalPorts } from './progress.js';

/** Prints a result: one JSON document with --json, else text for people. */
export function print(
  { json }: { json?: true },
  ports: Pick<TerminalPorts, 'clear'>,
  document: () => unknown,
  text: () => string,
): void {
  ports.clear();
  process.stdout.write(`${json ? JSON.stringify(document(), null, 2) : text()}\n`);
}
