import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** What the name of a file ends with while it is put in place. */
export const PARTIAL = '.partial';

/** When each file of an older program was found to be one: by name within dist, milliseconds since 1970. */
const OLDER = join('program', 'older.json');
const A_DAY = 24 * 60 * 60 * 1000;

/** Names of all files within a folder, however deep, as paths from there. */
export function filesIn(folder) {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(folder.length + 1));
}

/**
 * Removes from dist what is not of this build. Files of the program stay a day all the same, for a run that began before loads what
 * it writes its report with at its end.
 * @param wanted names of this build; `only`: nothing else may stay; `now`: milliseconds since 1970
 */
export function removeOlder(dist, { wanted, only, now }) {
  const found = readOlder(dist);
  const older = {};
  for (const name of filesIn(dist)) {
    // What another build is just putting in place is its own to remove.
    if (wanted.has(name) || name.endsWith(PARTIAL) || name === OLDER) continue;
    const since = found[name] ?? now;
    if (!only && isOfProgram(name) && now - since < A_DAY) older[name] = since;
    else rmSync(join(dist, name), { force: true });
  }
  if (Object.keys(older).length === 0) return rmSync(join(dist, OLDER), { force: true });
  writeFileSync(join(dist, OLDER), JSON.stringify(older));
}

function readOlder(dist) {
  try {
    return JSON.parse(readFileSync(join(dist, OLDER), 'utf8'));
  } catch {
    return {};
  }
}

const isOfProgram = (name) => /^program[/\\][^/\\]+\.js$/.test(name);
