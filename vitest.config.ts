import { readdirSync } from 'node:fs';
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** Begun first, the longest in front, so that no core is left with one of them alone at the end. */
const long = [
  'tests/measure/replay.test.ts',
  'tests/diagnose/triggers/explain.test.ts',
  'tests/cli/own-suite.test.ts',
  'tests/real/diagnose.test.ts',
  'tests/real/real-footage.test.ts',
  'tests/cli/process.test.ts',
  'tests/diagnose/cures/cures.test.ts',
];

class LongFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const place = ({ moduleId }: TestSpecification) => {
      const at = long.findIndex((file) => moduleId.endsWith(file));
      return at < 0 ? long.length : at;
    };
    return (await super.sort(files)).toSorted((a, b) => place(a) - place(b));
  }
}

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
    testTimeout: 240_000,
    hookTimeout: 300_000,
    // What a page or a server does is waited for as long as playwright waits: by default it is a second, which a slow disk takes.
    expect: { poll: { timeout: 30_000 } },
    coverage: { include: ['src/**'], reporter: ['text-summary', 'html'] },
    // Modules are loaded once for each worker, not for each file: a test that changes what they hold puts it back.
    isolate: false,
    // All cores; by default one is left free, which is half of two.
    maxWorkers: '100%',
    sequence: { sequencer: LongFirst },
  },
});
