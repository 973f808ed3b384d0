import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/torture/**/*.torture.ts'],
    globalSetup: 'src/build.js',
    pool: 'forks',
    fileParallelism: false,
    disableConsoleIntercept: true,
    testTimeout: 3_600_000,
    hookTimeout: 600_000,
  },
});
