import { existsSync } from 'node:fs';
import { Problem } from '../base/problem.js';

/**
 * A file or folder that is part of the program, as it stands.
 * @throws Problem 'incomplete' where it is not there: that is no fault of whoever runs it
 */
export function ofProgram(path: string): string {
  if (existsSync(path)) return path;
  throw new Problem(
    'incomplete',
    `the program is incomplete: ${path} is part of it, and is not there; install the program again`,
  );
}
