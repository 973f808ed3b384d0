import { copyFileSync, mkdirSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** Packages of many files that every verb needs: they are put into the program, of what they hold only what is used. */
const INSIDE = ['commander', 'zod'];

const src = fileURLToPath(new URL('.', import.meta.url));

/**
 * How what is installed is built: a few files in place of hundreds, which took longer to find than to run. Verbs stay apart,
 * and load what they need when they need it. All files lie side by side, as deep as the rooms of src do, for modules find
 * what lies beside the code from where they are themselves.
 */
export function programConfig(outDir) {
  return {
    configFile: false,
    root: src,
    logLevel: 'warn',
    publicDir: false,
    ssr: { noExternal: INSIDE },
    build: {
      ssr: true,
      outDir,
      emptyOutDir: false,
      target: 'es2023',
      minify: false,
      rolldownOptions: {
        input: {
          main: join(src, 'cli', 'main.ts'),
          index: join(src, 'jobs', 'index.ts'),
          thread: join(src, 'measure', 'thread.ts'),
        },
        output: { entryFileNames: '[name].js', chunkFileNames: '[name]-[hash].js' },
      },
    },
  };
}

/** Beside it lie the licences of the packages that it holds. */
export function copyLicences(outDir) {
  const { resolve } = createRequire(import.meta.url);
  mkdirSync(join(outDir, 'licences'), { recursive: true });
  for (const name of INSIDE) {
    copyFileSync(join(dirname(resolve(name)), 'LICENSE'), join(outDir, 'licences', `${name}.txt`));
  }
}
