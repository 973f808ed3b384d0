#!/usr/bin/env node
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const built = new URL('../dist/program/main.js', import.meta.url);
if (existsSync(built)) {
  try {
    const { main } = await import(built.href);
    process.exitCode = await main(process.argv.slice(2));
  } catch (error) {
    // Before anything of the program runs; what it misses later it tells itself.
    const { code, url } = error;
    if (code !== 'ERR_MODULE_NOT_FOUND' || url === undefined) throw error;
    fail(
      `the program is incomplete: ${fileURLToPath(url)} is part of it, and is not there; install the program again`,
    );
  }
} else {
  fail("dist/ is missing: the program is not built yet; run 'npm run build' first");
}

function fail(said) {
  process.stderr.write(`perchmark: ${said}\n`);
  process.exitCode = 3;
}
