import { defineConfig } from 'vitest/config';

/** Not part of `npm test`: the first `npm run evaluate` draws for an hour and more. */
export default defineConfig({
  test: {
    include: ['tests/evaluate/**/*.eval.ts'],
    testTimeout: 4 * 3_600_000,
    hookTimeout: 3_600_000,
    disableConsoleIntercept: true,
    // The two halves of the drawing side by side.
    maxWorkers: 2,
  },
});
