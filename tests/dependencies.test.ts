import { readFileSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';
import { describe, expect, it } from 'vitest';

const file = (path: string) => fileURLToPath(new URL(`../${path}`, import.meta.url));
const { dependencies } = JSON.parse(readFileSync(file('package.json'), 'utf8')) as {
  dependencies: Record<string, string>;
};

/** Packages that a file of src imports at run time, at once or later, itself or through others of src. */
async function importedBy(entry: string): Promise<string[]> {
  const built = await build({
    configFile: false,
    logLevel: 'silent',
    build: {
      write: false,
      ssr: true,
      rolldownOptions: { input: file(entry), external: [/^[^./]/] },
    },
  });
  const [output] = Array.isArray(built) ? built : [built];
  if (!output || !('output' in output)) throw new Error('vite built nothing');
  const wanted = output.output.flatMap((part) =>
    part.type === 'chunk' ? [...part.imports, ...part.dynamicImports] : [],
  );
  const ofSrc = new Set(output.output.map(({ fileName }) => fileName));
  const packages = wanted
    .filter((name) => !ofSrc.has(name) && !name.startsWith('node:') && !builtinModules.includes(name))
    .map((name) => name.split('/', name.startsWith('@') ? 2 : 1).join('/'));
  return [...new Set(packages)].sort();
}

/** Loaded where a fleet is asked for, and only then: one machine needs neither. */
const OF_A_FLEET = ['bullmq', 'ioredis'];

describe('what is installed with the package', () => {
  it('is what its program imports, no more and no less, a fleet apart', async () => {
    const imported = await importedBy('src/cli/main.ts');
    expect(imported.filter((name) => !OF_A_FLEET.includes(name))).toEqual(Object.keys(dependencies).sort());
    expect(OF_A_FLEET.filter((name) => !imported.includes(name))).toEqual([]);
  });
});
