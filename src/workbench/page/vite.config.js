import { fileURLToPath } from 'node:url';

/** How the page is built: one script, one style sheet and one worker beside a page, all addresses relative. */
export function pageConfig(outDir) {
  return {
    configFile: false,
    root: fileURLToPath(new URL('.', import.meta.url)),
    base: './',
    logLevel: 'warn',
    publicDir: false,
    oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
    worker: { format: 'es' },
    build: {
      outDir,
      emptyOutDir: true,
      target: 'es2022',
      modulePreload: { polyfill: false },
      assetsInlineLimit: 0,
      chunkSizeWarningLimit: 1000,
    },
  };
}
