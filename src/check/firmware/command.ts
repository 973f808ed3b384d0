import { parse } from 'shell-quote';
import { Problem } from '../../base/problem.js';
import { quoted } from '../../base/text.js';

/** Quotation marks that are left once all pairs of them, and whatever stands behind a backslash, are gone. */
const PAIRED = /\\.|"(?:\\.|[^"\\])*"|'[^']*'/gs;

/**
 * The program and its words of a command line: quotation marks, backslashes and $NAME mean what they mean in a shell, but no
 * shell runs it, so that what goes wrong with the program is not told by another one.
 * @throws Problem 'usage' where only a shell could run it, or where a quotation mark is not closed
 */
export function wordsOf(command: string): [program: string, ...words: string[]] {
  const refuse = (text: string): never => {
    throw new Problem('usage', `--camera-command ${quoted(command)}: ${text}`);
  };
  if (/["']/.test(command.replace(PAIRED, ''))) {
    refuse('expected quotation marks in pairs, found one that is not closed; close it');
  }
  const words = parse(command, (name) => process.env[name] ?? '').map((word) => {
    if (typeof word === 'string') return word;
    const found = 'pattern' in word ? word.pattern : 'op' in word ? word.op : '#';
    return refuse(
      `expected a program and its words, found ${quoted(found)}, which takes a shell; put that part in quotation marks, or name the shell: sh -c '...'`,
    );
  });
  const [program = '', ...rest] = words;
  if (program.trim() === '') refuse('expected a program and its words, found none; name what runs your code');
  return [program, ...rest];
}
