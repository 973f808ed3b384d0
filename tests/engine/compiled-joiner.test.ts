import { afterEach, expect, it, vi } from 'vitest';
import { compiledJoiner } from '../../src/engine/compiled/joiner.js';

class CompileError extends Error {}
afterEach(() => {
  vi.unstubAllGlobals();
});

it('is none where compiling is forbidden, as a page may be told', () => {
  const { Memory, Instance } = WebAssembly;
  const Module = class {
    constructor() {
      throw new CompileError('disallowed by embedder');
    }
  };
  vi.stubGlobal('WebAssembly', { Memory, Instance, Module });
  expect(compiledJoiner(8, 8, 10)).toBeNull();
});
