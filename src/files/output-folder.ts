import { rmdirSync } from 'node:fs';
import { realpath, rm, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, isAbsolute, join, relative, resolve, sep } from 'node:path';
import { Problem } from '../base/problem.js';
import { codeOf, unwritable } from './faults.js';
import { makeFolders } from './folder.js';
import { besides } from './partial.js';

/** How far above a folder a clip.json is looked for. */
const DEEPEST = 8;

/** Folders that were made to write into, each with the first of those that were made for it. */
const made = new Map<string, string>();

/** Takes away again, at once, those of them into which nothing was written; for the end of a run, whatever its end. */
export function letGoOfEmpty(): void {
  for (const [path, first] of made) {
    try {
      for (let folder = path; ; folder = dirname(folder)) {
        rmdirSync(folder);
        if (folder === first) break;
      }
    } catch {
      // Something is in it, and stays.
    }
  }
  made.clear();
}

/**
 * Makes a folder to write files into, where there is none, and sees that files can be written there.
 * @param option what the user gave it with, for messages
 * @throws Problem 'file-unwritable' also where it is a clip or lies in one, 'usage' for no name at all
 */
export async function openOutputFolder(option: string, path: string): Promise<void> {
  if (path.trim() === '') throw new Problem('usage', `${option}: expected the name of a folder, found none`);
  const refuse = (text: string): never => {
    throw new Problem('file-unwritable', `${option} ${path}: ${text}`);
  };
  try {
    let folder = await resolved(path);
    for (let depth = 0; depth < DEEPEST; depth++, folder = dirname(folder)) {
      if (!(await stat(join(folder, 'clip.json')).catch(() => null))) continue;
      refuse(
        depth === 0
          ? 'this is a clip, in which nothing is written; choose another folder'
          : `this folder lies in the clip ${folder}, in which nothing is written; choose another place`,
      );
    }
    const there = await stat(path).catch(() => null);
    if (there && !there.isDirectory()) refuse('this is no folder; expected a folder; choose another name');
    const first = await makeFolders(path);
    if (first !== undefined) made.set(resolve(path), first);
    const trial = besides(join(path, 'trial'));
    await writeFile(trial, '', { flag: 'wx' });
    await rm(trial, { force: true });
  } catch (error) {
    throw error instanceof Problem ? error : unwritable(path, error);
  }
}

/** Whether a path leads, over all links, to a folder or into it; what is not there yet lies where it would be made. */
export async function liesIn(path: string, folder: string): Promise<boolean> {
  // Where no folder can be made it lies by its name; who makes it says why it cannot be.
  const leads = (to: string) => resolved(to).catch(() => resolve(to));
  const inside = relative(await leads(folder), await leads(path));
  return inside !== '..' && !inside.startsWith(`..${sep}`) && !isAbsolute(inside);
}

/** Where a path leads over all links, though its last parts may not be there. */
export async function resolved(path: string): Promise<string> {
  const whole = resolve(path);
  try {
    return await realpath(whole);
  } catch (error) {
    if (codeOf(error) !== 'ENOENT' || dirname(whole) === whole) throw error;
    return join(await resolved(dirname(whole)), basename(whole));
  }
}
