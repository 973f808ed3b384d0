import { createRequire } from 'node:module';
import { expect, it } from 'vitest';
import { JOINER } from '../../src/engine/compiled/joiner-bytes.js';
import { compileJoiner } from '../../src/lab/compile-joiner.js';

const hasCompiler = (() => {
  try {
    return createRequire(import.meta.url).resolve('assemblyscript/bin/asc.js') !== '';
  } catch {
    return false;
  }
})();

it.skipIf(!hasCompiler)('the WebAssembly that runs is that of its source', () => {
  expect([...JOINER]).toEqual([...compileJoiner()]);
});
