/** Examples to stand at the end of a verb's help: command lines as they are typed, and what each is for. */
export function examples(lines: readonly (readonly [command: string, what: string])[]): string {
  return `\nExamples:\n${lines.map(([command, what]) => `  ${what}:\n    perchmark ${command}`).join('\n')}`;
}
