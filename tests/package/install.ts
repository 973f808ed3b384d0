import { type ChildProcess, execFile, spawn } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';

const root = fileURLToPath(new URL('../../', import.meta.url));
const run = promisify(execFile);

/** An empty folder into which the package was installed, as its user would. */
export interface Installed {
  /** Where the user works; nothing but the package is there. */
  folder: string;
  /** The package's own folder. */
  own: string;
  perchmark: (...args: string[]) => Promise<{ code: number; out: string; err: string }>;
  /** Starts one that goes on until it is ended. */
  start: (...args: string[]) => ChildProcess;
  /** What a program of the user's prints. */
  runs: (program: string) => Promise<string>;
  remove: () => void;
}

/**
 * Packs a copy of the project as it is in a clean clone, but for a file that an older build left, and installs the
 * package without what only developers need.
 */
export async function install(): Promise<Installed> {
  const temporary = mkdtempSync(join(tmpdir(), 'perchmark-package-'));
  const [clone, folder] = [join(temporary, 'clone'), join(temporary, 'user')];
  const made = new Set(['.git', 'node_modules', 'dist', 'coverage'].map((name) => join(root, name)));
  cpSync(root, clone, { recursive: true, filter: (path) => !made.has(path) });
  symlinkSync(join(root, 'node_modules'), join(clone, 'node_modules'), 'dir');
  mkdirSync(join(clone, 'dist', 'program'), { recursive: true });
  writeFileSync(join(clone, 'dist', 'program', 'stale.js'), 'a file of an older build');
  await run('npm', ['pack', '--pack-destination', temporary], { cwd: clone });
  const packed = readdirSync(temporary).filter((name) => name.endsWith('.tgz'));
  if (packed.length !== 1) throw new Error(`npm pack made ${packed.length} packages`);

  mkdirSync(folder);
  writeFileSync(join(folder, 'package.json'), '{}');
  await run('npm', ['install', '--omit=dev', join(temporary, packed[0]!)], { cwd: folder });
  const bin = join(folder, 'node_modules', '.bin', 'perchmark');
  const env = { ...process.env, PERCHMARK_CACHE: join(temporary, 'cache') };
  return {
    folder,
    own: join(folder, 'node_modules', 'perchmark'),
    perchmark: (...args) =>
      new Promise((done) => {
        execFile(bin, args, { env, cwd: folder, maxBuffer: 2 ** 26 }, (error, out, err) => {
          done({ code: error ? Number(error.code) : 0, out, err });
        });
      }),
    start: (...args) => spawn(bin, args, { env, cwd: folder, stdio: ['ignore', 'pipe', 'ignore'] }),
    runs: async (program) => {
      writeFileSync(join(folder, 'program.mjs'), program);
      return (await run(process.execPath, ['program.mjs'], { env, cwd: folder })).stdout;
    },
    remove: () => rmSync(temporary, { recursive: true, force: true }),
  };
}

/** Every file of a folder, by its path from there. */
export function filesIn(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)));
}
