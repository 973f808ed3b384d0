import { csvCell } from '../../base/csv.js';
import type { Seen } from './photo.js';

/**
 * Marks as a file: a row a photo, those without a mark ready to be filled in. Names are written so that neither a spreadsheet takes
 * one for a formula nor a terminal for a command; the reader knows them again.
 * @param names of all photos
 */
export function marksFile(names: readonly string[], seen: (photo: number) => Seen | null): string {
  const plain = names.map(plainName);
  const times = new Map<string, number>();
  for (const name of plain) times.set(name, (times.get(name) ?? 0) + 1);
  const rows = names.map((name, i) => {
    // Two that would be told apart no more stay as they are.
    const written = times.get(plain[i]!) === 1 ? plain[i]! : name;
    return `${csvCell(FORMULA.test(written) ? `./${written}` : written)},${seen(i) ?? ''}`;
  });
  return ['photo,seen', ...rows, ''].join('\n');
}

/** What spreadsheets begin a formula with; a blank before it hides it from none. */
const FORMULA = /^\s*[=+\-@]/;

/** A name with a visible sign in the place of each control character: of U+2400 to U+2421 those that Unicode has for them. */
export function plainName(name: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
  return name.replace(/[\x00-\x1f\x7f-\x9f]/g, (one) => {
    const code = one.charCodeAt(0);
    if (code > 0x7f) return '\ufffd';
    return String.fromCharCode(code === 0x7f ? 0x2421 : 0x2400 + code);
  });
}
