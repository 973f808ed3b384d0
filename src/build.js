// Builds dist from nothing, beside the old one (the JSON Schemas with it), and then puts in place what differs, each file whole: whoever runs the program
// or tests meanwhile never reads half a file. What an older build left is removed, but for files of the program that a run under way may yet
// ask for: they stay a day, or until `--only`, by which none gets into the package.
import { spawnSync } from 'node:child_process';
import { copyFileSync, cpSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build as bundle } from 'vite';
import { filesIn, PARTIAL, removeOlder } from './older.js';
import { copyLicences, programConfig } from './program.js';
import { sortingConfig } from './report/sorting/vite.config.js';
import { pageConfig } from './workbench/page/vite.config.js';

const root = fileURLToPath(new URL('..', import.meta.url));
const dist = join(root, 'dist');
const src = join(root, 'src');

/**
 * Builds once; what does not compile is told on standard output, and built as far as it goes. Gives whether all compiled.
 * @param only whether nothing of older builds may stay
 */
export async function build(only = false) {
  // Where modules find the packages that they import, for the schemas are written by what was just built.
  const made = mkdtempSync(join(root, 'node_modules', '.build-'));
  try {
    const tsc = join(
      dirname(createRequire(import.meta.url).resolve('typescript/package.json')),
      'bin',
      'tsc',
    );
    const args = [tsc, '-p', join(root, 'tsconfig.json'), '--outDir', made];
    const { status, error } = spawnSync(process.execPath, args, { stdio: 'inherit' });
    if (error) throw error;
    cpSync(join(src, 'camera', 'shipped'), join(made, 'camera', 'shipped'), { recursive: true });
    spawnSync(process.execPath, [join(made, 'lab', 'write-schemas.js'), join(made, 'schemas')], {
      stdio: 'inherit',
    });
    await bundle(pageConfig(join(made, 'workbench', 'page')));
    await bundle(sortingConfig(join(made, 'report', 'sorting')));
    await bundle(programConfig(join(made, 'program')));
    copyLicences(join(made, 'program'));
    const names = filesIn(made);
    if (names.length === 0) return false;
    // What the program begins with comes last: all that it asks for is there by then.
    for (const name of names.toSorted((a, b) => Number(isBeginning(a)) - Number(isBeginning(b)))) {
      place(join(made, name), join(dist, name));
    }
    removeOlder(dist, { wanted: new Set(names), only, now: Date.now() });
    return status === 0;
  } finally {
    rmSync(made, { recursive: true });
  }
}

/** For vitest: no test runs on a build older than src, neither at the start nor while it watches. */
export async function setup(project) {
  if (!(await build()) && !project.config.watch) throw new Error('src does not compile');
  let stale = false;
  let timer;
  const renew = () => {
    if (stale) void build();
    stale = false;
  };
  project.vite.watcher.on('all', (_event, file) => {
    if (!file.startsWith(src)) return;
    stale = true;
    clearTimeout(timer);
    timer = setTimeout(renew, 50);
  });
  project.onTestsRerun(renew);
}

const isBeginning = (name) => /^program[/\\](main|index|thread)\.js$/.test(name);

function place(from, to) {
  if (sameContent(from, to)) return;
  mkdirSync(dirname(to), { recursive: true });
  const beside = `${to}.${process.pid}${PARTIAL}`;
  copyFileSync(from, beside);
  renameSync(beside, to);
}

function sameContent(from, to) {
  try {
    return readFileSync(from).equals(readFileSync(to));
  } catch {
    return false;
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  process.exitCode = (await build(process.argv.includes('--only'))) ? 0 : 1;
}
