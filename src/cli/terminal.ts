import { styleText } from 'node:util';

/** Whether to write escape codes: only to a terminal, and never where NO_COLOR is set to anything (no-color.org). */
function coloured(): boolean {
  return process.stdout.isTTY === true && !process.env.NO_COLOR;
}

export function strong(text: string): string {
  return coloured() ? styleText('bold', text) : text;
}

export function faint(text: string): string {
  return coloured() ? styleText('dim', text) : text;
}

/** Columns under their headings; the first column is set left, the others right unless a row is text throughout. */
export function table(heads: readonly string[], rows: readonly (readonly string[])[]): string {
  const widths = heads.map((head, c) => Math.max(head.length, ...rows.map((row) => (row[c] ?? '').length)));
  const line = (cells: readonly string[]) =>
    cells
      .map((cell, c) => (c === 0 ? cell.padEnd(widths[c]!) : cell.padStart(widths[c]!)))
      .join('   ')
      .trimEnd();
  return [faint(line(heads)), ...rows.map(line)].map((text) => `  ${text}`).join('\n');
}

/** Folds prose at word ends to a width a terminal shows without wrapping. */
export function fold(text: string, width = 92): string {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line && line.length + 1 + word.length > width) {
      lines.push(line);
      line = word;
    } else line = line ? `${line} ${word}` : word;
  }
  return [...lines, line].join('\n');
}

/** Text that hangs beside its heading, which takes `width` columns. */
export function item(head: string, text: string, width = 13): string {
  const lines = fold(text, 90 - width).split('\n');
  return lines.map((line, i) => `  ${(i === 0 ? head : '').padEnd(width)}${line}`).join('\n');
}
