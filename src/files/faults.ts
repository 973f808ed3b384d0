import { Problem } from '../base/problem.js';

/** What system errors mean to somebody who can do something about them (POSIX errno names). */
const said: Record<string, string> = {
  ENOSPC: 'there is no space left on that disk; free some',
  EDQUOT: 'the quota of that disk is used up; free some space',
  EROFS: 'that disk can only be read; choose another place',
  EACCES: 'it is not permitted; change its permissions or choose another place',
  EPERM: 'it is not permitted; change its permissions or choose another place',
  ENOENT: 'a folder on the way is missing; make it, or choose another place',
  ENOTDIR: 'a file stands where a folder is expected; choose another place',
  EISDIR: 'a folder is in the way; choose another place',
  ENOTEMPTY: 'a folder is in the way; choose another place',
  EEXIST: 'something is in the way; choose another place',
  ENAMETOOLONG: 'the name is too long; choose a shorter one',
  ELOOP: 'symbolic links on the way lead in a circle; choose another place',
  EMFILE: 'too many files are open; close some programs, or raise the limit (ulimit -n)',
  ENFILE: 'too many files are open; close some programs, or raise the limit (ulimit -n)',
  EIO: 'the disk does not work; see to it',
};

/** The name of a system error; undefined for errors of other kinds. */
export function codeOf(error: unknown): string | undefined {
  const code = (error as NodeJS.ErrnoException | null)?.code;
  return typeof code === 'string' && /^E[A-Z0-9]+$/.test(code) ? code : undefined;
}

/** What a system error means, after a colon; nothing where there are no words for it. */
export function meaningOf(code: string): string {
  return Object.hasOwn(said, code) ? `: ${said[code]}` : '';
}

/** What went wrong in writing to a place, as something the user can mend, caused by the system's error; other errors as they are. */
export function unwritable(path: string, error: unknown): unknown {
  const code = codeOf(error);
  if (error instanceof Problem || code === undefined) return error;
  const mend = said[code] ?? 'free the place, change its permissions or choose another';
  return Object.assign(new Problem('file-unwritable', `${path}: cannot be written (${code}): ${mend}`), {
    cause: error,
  });
}

/** System calls that change something; where they fail, a place could not be written. */
const WRITING =
  /^(write|writev|pwrite|mkdir|rename|copyfile|unlink|rmdir|ftruncate|fsync|chmod|fchmod|chown|utimes?|link|symlink)$/;

/** A system error that nobody gave words yet as something the user can mend; null for any other error. */
export function asProblem(error: unknown): Problem | null {
  const code = codeOf(error);
  if (code === undefined) return null;
  const { path, syscall = '' } = error as NodeJS.ErrnoException;
  const place = path ?? 'a file';
  if (WRITING.test(syscall) || ['ENOSPC', 'EDQUOT', 'EROFS'].includes(code)) {
    return unwritable(place, error) as Problem;
  }
  const why = { ...said, ENOENT: 'there is no such file', EISDIR: 'this is a folder; expected a file' }[code];
  if (why === undefined) return null;
  return new Problem('file-unreadable', `${place}: cannot be read (${code}): ${why}`);
}
