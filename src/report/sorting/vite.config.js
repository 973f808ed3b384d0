import { fileURLToPath } from 'node:url';

/** How the script of the sheet is built: one plain script, which is put into each sheet whole. */
export function sortingConfig(outDir) {
  return {
    configFile: false,
    root: fileURLToPath(new URL('.', import.meta.url)),
    logLevel: 'warn',
    publicDir: false,
    build: {
      outDir,
      emptyOutDir: false,
      target: 'es2022',
      lib: { entry: 'page.ts', formats: ['iife'], name: 'sorting', fileName: () => 'page.js' },
    },
  };
}
