import { distance } from 'fastest-levenshtein';
import { oneLine } from './text.js';

/** Stable names of everything a user can get wrong; a message may be reworded, its code may not. */
export type ProblemCode =
  | 'usage'
  | 'file-missing'
  | 'file-unreadable'
  | 'file-unwritable'
  | 'not-json'
  | 'bad-field'
  | 'bad-picture'
  | 'bad-times'
  | 'bad-video'
  | 'bad-settings'
  | 'bad-firmware'
  | 'needs-ffmpeg'
  | 'needs-labels'
  | 'needs-queue'
  /** A part of the running program was ended from outside. */
  | 'leaves-folder'
  /** Of the program itself something is missing: the one that is its own fault. */
  | 'incomplete';

/**
 * Something the user can mend. Its message is one line: what was wrong, where, what was expected, what to do. It may name
 * what the user wrote as it is: whatever would act on a terminal is spelled out here, and what is too long is cut.
 * The command line prints it and exits with 2, or with 3 where the program is incomplete; any other error is a fault of the
 * program (exit 3).
 */
export class Problem extends Error {
  override readonly name = 'Problem';
  readonly code: ProblemCode;

  constructor(code: ProblemCode, message: string) {
    super(oneLine(message));
    this.code = code;
  }
}

/** No word that was meant for a known one is longer. */
const MOST_MISTYPED = 300;

/** The known word nearest to a mistyped one, or undefined when none is near enough to be meant. */
export function nearest(word: string, known: readonly string[]): string | undefined {
  if (word.length > MOST_MISTYPED) return undefined;
  let best: string | undefined;
  let least = Math.max(2, Math.floor(word.length / 3)) + 1;
  for (const candidate of known) {
    const d = distance(word.toLowerCase(), candidate.toLowerCase());
    if (d < least) {
      least = d;
      best = candidate;
    }
  }
  return best;
}

/** Words of older files that have another name now. */
const renamed = new Map([['maximumArea', 'mostChanged']]);

/** ` (did you mean 'x'?)`, or nothing: the tail of a message about an unknown word. */
export function hint(word: string, known: readonly string[]): string {
  const now = renamed.get(word);
  if (now !== undefined && known.includes(now)) return ` (it is called '${now}' now)`;
  const near = nearest(word, known);
  return near === undefined ? '' : ` (did you mean '${near}'?)`;
}
