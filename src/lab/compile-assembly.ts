import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The folder of the repository, from here or from where this is built. */
const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const FOLDER = 'src/engine/compiled';

/** What is written in AssemblyScript, and what its bytes are called. */
const MODULES = { arithmetic: 'ARITHMETIC', joiner: 'JOINER' } as const;

/**
 * WebAssembly of a module, as AssemblyScript's compiler makes it.
 * @throws Error what that says of the source, or that it is not installed
 */
export function compileAssembly(name: keyof typeof MODULES): Uint8Array {
  const compiler = createRequire(import.meta.url).resolve('assemblyscript/bin/asc.js');
  const folder = mkdtempSync(join(tmpdir(), 'perchmark-assembly-'));
  try {
    const out = join(folder, 'out.wasm');
    // Nothing is allocated at run time, memory comes from outside, and all lies where the modules put it.
    const options = [
      '-O3',
      '--runtime',
      'stub',
      '--importMemory',
      '--noAssert',
      '--pedantic',
      '--enable',
      'simd',
    ];
    const { status, stderr } = spawnSync(
      process.execPath,
      [compiler, `${FOLDER}/${name}.as.ts`, ...options, '-o', out],
      {
        cwd: ROOT,
        encoding: 'utf8',
      },
    );
    if (status !== 0) throw new Error(stderr);
    return new Uint8Array(readFileSync(out));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

const IN_A_ROW = 24;

/** The source file that holds those bytes. */
function sourceOf(name: keyof typeof MODULES, bytes: Uint8Array): string {
  const rows = Array.from({ length: Math.ceil(bytes.length / IN_A_ROW) }, (_, i) =>
    [...bytes.subarray(i * IN_A_ROW, (i + 1) * IN_A_ROW)].join(', '),
  );
  return `/** WebAssembly made from ${name}.as.ts by \`npm run compile:assembly\`: change that, not this. */
// biome-ignore format: bytes
export const ${MODULES[name]} = Uint8Array.of(
  ${rows.join(',\n  ')},
);
`;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  for (const name of Object.keys(MODULES) as (keyof typeof MODULES)[]) {
    writeFileSync(join(ROOT, FOLDER, `${name}-bytes.ts`), sourceOf(name, compileAssembly(name)));
  }
}
