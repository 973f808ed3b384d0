import { readdirSync, readFileSync } from 'node:fs';
import { expect, it } from 'vitest';

const ENGINE = new URL('../../src/engine/', import.meta.url);

it('the engine imports nothing from outside its folder', () => {
  const files = readdirSync(ENGINE).filter((name) => name.endsWith('.ts'));
  const imports = files.flatMap((name) =>
    [...readFileSync(new URL(name, ENGINE), 'utf8').matchAll(/(?:from|import)\s*\(?\s*'([^']+)'/g)].map(
      ([, specifier]) => `${name}: ${specifier}`,
    ),
  );
  expect(imports.length).toBeGreaterThan(0);
  expect(imports.filter((line) => !/: \.\/[a-z]+\.js$/.test(line))).toEqual([]);
});
