import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Problem } from '../base/problem.js';

/**
 * A file or folder that is part of the program, as it stands.
 * @throws Problem 'incomplete' where it is not there: that is no fault of whoever runs it
 */
export function ofProgram(path: string): string {
  if (existsSync(path)) return path;
  throw incomplete(path);
}

/** That a module of the program is not there, of what loading one threw; null for whatever else was thrown. */
export function missingModule(error: unknown): Problem | null {
  const { code, url } = error as { code?: unknown; url?: unknown };
  if (code !== 'ERR_MODULE_NOT_FOUND' || typeof url !== 'string') return null;
  return incomplete(fileURLToPath(url));
}

function incomplete(path: string): Problem {
  return new Problem(
    'incomplete',
    `the program is incomplete: ${path} is part of it, and is not there; install the program again`,
  );
}
