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

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/bench/**'],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    // Modules are loaded once for each worker, not for each file: a test that changes what they hold puts it back.
    isolate: false,
    // All cores; by default one is left free, which is half of two.
    maxWorkers: '100%',
    sequence: { sequencer: LongFirst },
  },
});
