import { defineConfig } from 'vitest/config';

/** Not part of `npm test`: `npm run test:package` needs the registry. */
export default defineConfig({
  test: {
    include: ['tests/package/**/*.package.ts'],
    testTimeout: 120_000,
    hookTimeout: 600_000,
  },
});
