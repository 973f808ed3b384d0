import { readdirSync } from 'node:fs';
import { defineConfig } from 'vitest/config';

/** Tests that start the program as built. */
const ofTheProgram = readdirSync(new URL('tests/cli/', import.meta.url)).flatMap((name) =>
  name.endsWith('.test.ts') ? [`tests/cli/${name}`] : [],
);

export default defineConfig({
  // Vite would not watch what it takes for its own output.
  build: { emptyOutDir: false },
  test: {
    include: ['tests/**/*.test.ts'],
    globalSetup: 'src/build.js',
    watchTriggerPatterns: [{ pattern: /\/dist\/.*\.js$/, testsToRun: () => ofTheProgram }],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    coverage: { include: ['src/**'], reporter: ['text-summary', 'html'] },
  },
});
