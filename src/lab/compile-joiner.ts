import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The folder of the repository, from here or from where this is built. */
const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const SOURCE = 'src/engine/compiled/joiner.as.ts';

/**
 * WebAssembly of the joiner, as AssemblyScript's compiler makes it.
 * @throws Error what that says of the source, or that it is not installed
 */
export function compileJoiner(): Uint8Array {
  const compiler = createRequire(import.meta.url).resolve('assemblyscript/bin/asc.js');
  const folder = mkdtempSync(join(tmpdir(), 'perchmark-joiner-'));
  try {
    const out = join(folder, 'joiner.wasm');
    // Nothing is allocated at run time, memory comes from outside, and all tables lie where layOut puts them.
    const options = ['-O3', '--runtime', 'stub', '--importMemory', '--noAssert', '--pedantic', '-o', out];
    const { status, stderr } = spawnSync(process.execPath, [compiler, SOURCE, ...options], {
      cwd: ROOT,
      encoding: 'utf8',
    });
    if (status !== 0) throw new Error(stderr);
    return new Uint8Array(readFileSync(out));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

const IN_A_ROW = 24;

/** The source file that holds those bytes. */
export function joinerBytes(bytes: Uint8Array): string {
  const rows = Array.from({ length: Math.ceil(bytes.length / IN_A_ROW) }, (_, i) =>
    [...bytes.subarray(i * IN_A_ROW, (i + 1) * IN_A_ROW)].join(', '),
  );
  return `/** WebAssembly made from joiner.as.ts by \`npm run compile:joiner\`: change that, not this. */
// biome-ignore format: bytes
export const JOINER = Uint8Array.of(
  ${rows.join(',\n  ')},
);
`;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) process.stdout.write(joinerBytes(compileJoiner()));
