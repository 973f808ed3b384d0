import { createRequire } from 'node:module';
import { expect, it } from 'vitest';
import { ARITHMETIC } from '../../src/engine/compiled/arithmetic-bytes.js';
import { JOINER } from '../../src/engine/compiled/joiner-bytes.js';
import { compileAssembly } from '../../src/lab/compile-assembly.js';

const hasCompiler = (() => {
  try {
    return createRequire(import.meta.url).resolve('assemblyscript/bin/asc.js') !== '';
  } catch {
    return false;
  }
})();

it.skipIf(!hasCompiler).each([
  ['arithmetic', ARITHMETIC],
  ['joiner', JOINER],
] as const)('the WebAssembly that runs is that of its source: %s', (name, bytes) => {
  expect([...bytes]).toEqual([...compileAssembly(name)]);
});
