import { styleText } from 'node:util';
import { visible, visibleName } from '../base/text.js';

/** Whether to write escape codes: only to a terminal, and never where NO_COLOR is set to anything (no-color.org). */
function coloured(): boolean {
  return process.stdout.isTTY === true && !process.env.NO_COLOR;
}

export function strong(text: string): string {
  return coloured() ? styleText('bold', visible(text)) : text;
}

export function faint(text: string): string {
  return coloured() ? styleText('dim', visible(text)) : text;
}

/** The codes that `strong` and `faint` write: bold, dim, neither (ECMA-48, SGR). */
// biome-ignore lint/suspicious/noControlCharactersInRegex: escape codes begin with one
const OWN_CODES = /(\u001b\[(?:1|2|22)m)/;

/** Text as it may be printed: whatever would act on the terminal is spelled out, but for what was written here. */
export function shown(text: string): string {
  if (!coloured()) return visible(text);
  return text
    .split(OWN_CODES)
    .map((part, i) => (i % 2 === 1 ? part : visible(part)))
    .join('');
}

/** Columns that are written to: those of the terminal, 80 where that is unknown, and never more than are read with ease. */
export function terminalWidth(): number {
  return Math.max(40, Math.min(process.stdout.columns ?? 80, 100));
}

/** Columns under their headings; the first column is set left, the others right unless a row is text throughout. */
export function table(heads: readonly string[], rows: readonly (readonly string[])[]): string {
  return laidOut(
    heads.map(visibleName),
    rows.map((row) => row.map(visibleName)),
  );
}

/** A table where it fits; else each row as a list of its own, so that nothing is wrapped. */
export function tableOrLists(heads: readonly string[], rows: readonly (readonly string[])[]): string {
  const whole = table(heads, rows);
  if (visibleWidth(whole) <= terminalWidth()) return whole;
  const [, ...names] = heads;
  const width = Math.max(...names.map(({ length }) => length)) + 3;
  return rows
    .map(([first = '', ...cells]) =>
      [`  ${visibleName(first)}`, ...cells.map((cell, c) => `  ${item(names[c] ?? '', cell, width)}`)].join(
        '\n',
      ),
    )
    .join('\n\n');
}

/** Columns of the widest line, without the codes of its own. */
function visibleWidth(text: string): number {
  return Math.max(
    ...text
      .replaceAll(new RegExp(OWN_CODES, 'g'), '')
      .split('\n')
      .map(({ length }) => length),
  );
}

function laidOut(heads: readonly string[], rows: readonly (readonly string[])[]): string {
  const widths = heads.map((head, c) => Math.max(head.length, ...rows.map((row) => (row[c] ?? '').length)));
  const line = (cells: readonly string[]) =>
    cells
      .map((cell, c) => (c === 0 ? cell.padEnd(widths[c]!) : cell.padStart(widths[c]!)))
      .join('   ')
      .trimEnd();
  return [faint(line(heads)), ...rows.map(line)].map((text) => `  ${text}`).join('\n');
}

/** Folds prose at word ends to a width a terminal shows without wrapping. */
export function fold(text: string, width = terminalWidth()): string {
  const lines: string[] = [];
  let line = '';
  for (const word of visibleName(text).split(' ')) {
    if (line && line.length + 1 + word.length > width) {
      lines.push(line);
      line = word;
    } else line = line ? `${line} ${word}` : word;
  }
  return [...lines, line].join('\n');
}

/** Text that hangs beside its heading, which takes `width` columns. */
export function item(head: string, text: string, width = 13): string {
  const lines = fold(text, terminalWidth() - 2 - width).split('\n');
  const beside = visibleName(head);
  return lines.map((line, i) => `  ${(i === 0 ? beside : '').padEnd(width)}${line}`).join('\n');
}

/** A heading with lines under it, each folded by itself; nothing where there are none. */
export function listed(head: string, lines: readonly string[]): string[] {
  if (lines.length === 0) return [];
  const point = (line: string) => `  - ${fold(line, terminalWidth() - 4).replaceAll('\n', '\n    ')}`;
  return [[head, ...lines.map(point)].join('\n')];
}
