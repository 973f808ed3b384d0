import { defineConfig } from 'vitest/config';

/** Benches run once, one after the other, in processes of their own; ratios within one run are what they assert. */
export default defineConfig({
  test: {
    include: ['tests/bench/**/*.bench.ts'],
    globalSetup: 'src/build.js',
    pool: 'forks',
    fileParallelism: false,
    disableConsoleIntercept: true,
    testTimeout: 600_000,
    hookTimeout: 600_000,
  },
});
