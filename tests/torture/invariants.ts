import type { Ran } from '../support/command.js';

/** Codes that a command line may end with: done, a check that did not hold, wrong use or bad input. */
const CODES = [0, 1, 2];
const NOTE = /^perchmark: note: /;
const PROGRESS = /: \d+ of \d+(, about \d+ s left)?$/;

/** What is wrong with how a run ended, in words; null where nothing is. */
export function wrongWith({ code, out, err }: Ran, codes: readonly number[] = CODES): string | null {
  if (!codes.includes(code)) return `ended with ${code}: ${firstOf(err)}`;
  const lines = err.split(/[\n\r]/).filter((line) => line !== '' && !NOTE.test(line) && !PROGRESS.test(line));
  const errors = code === 0 || code === 1 ? 0 : 1;
  if (lines.length !== errors)
    return `ended with ${code} and ${lines.length} lines of error: ${firstOf(err)}`;
  if (lines.some((line) => !line.startsWith('perchmark: ')))
    return `an error that is not its own: ${firstOf(err)}`;
  if (/^\s+at .*[:(]/m.test(err)) return `a stack: ${firstOf(err)}`;
  if (code === 2 && out !== '') return `an error, and yet an answer: ${out.slice(0, 200)}`;
  if (/\bNaN\b|\bundefined\b|\[object /.test(out + err))
    return `NaN or the like: ${firstOf(err)} ${oddOf(out)}`;
  return null;
}

function firstOf(text: string): string {
  return text.trim().split('\n').slice(0, 6).join(' | ').slice(0, 600);
}

function oddOf(text: string): string {
  return /.{0,60}(NaN|undefined|\[object ).{0,60}/s.exec(text)?.[0] ?? '';
}
