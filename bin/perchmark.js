#!/usr/bin/env node
import { existsSync } from 'node:fs';

const built = new URL('../dist/program/main.js', import.meta.url);
if (existsSync(built)) {
  const { main } = await import(built.href);
  process.exitCode = await main(process.argv.slice(2));
} else {
  process.stderr.write(
    "perchmark: dist/ is missing: the program is not built yet; run 'npm run build' first\n",
  );
  process.exitCode = 3;
}
