import { readdirSync, readFileSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { build } from 'vite';
import { describe, expect, it } from 'vitest';

const SRC = fileURLToPath(new URL('../src/', import.meta.url));

/** Each imports only from itself and from rooms before it. */
const ROOMS = [
  'engine',
  'base',
  'camera',
  'score',
  'sweep',
  'weather',
  'outing',
  'tune',
  'plan',
  // From here on Node is allowed.
  'files',
  'store',
  'clip',
  'measure',
  'scene',
  'diagnose',
  'check',
  'fit',
  'jobs',
  'fleet',
  'words',
  'report',
  'workbench',
  'cli',
  'lab',
];
const PURE = ROOMS.slice(0, ROOMS.indexOf('files'));
/** What a browser's worker would load to sweep and to choose: gzipped bytes at most, so that growth is noticed. */
const MOST_BYTES = 37_000;

const files = readdirSync(SRC, { recursive: true, encoding: 'utf8' }).filter((name) => /\.tsx?$/.test(name));
/** What runs in the browser, but for what it shares with the program. */
const PAGE = 'workbench/page/';
/** What the page may take along at run time beside itself and the pure rooms. */
const SHARED = ['words'];
const room = (file: string) => file.split('/')[0]!;

interface Import {
  from: string;
  /** A file of src, or a package. */
  to: string;
  /** Whether anything of it is left once types are gone. */
  runs: boolean;
}

const IMPORT =
  /^(import|export)\s+(type\s+)?([^;'"]*?)\s*from\s*'([^']+)'|import\(\s*'([^']+)'\s*\)|^import\s+'([^']+)'/gm;

/** Without what stands in template strings: generated code. */
const codeOf = (file: string) => readFileSync(join(SRC, file), 'utf8').replace(/`(?:[^`\\]|\\.)*`/gs, '``');

/** The file of src that an import of its built name means. */
function sourceOf(path: string): string {
  const plain = relative(SRC, join(SRC, path)).replace(/\.js$/, '.ts');
  return files.includes(`${plain}x`) ? `${plain}x` : plain;
}

const imports: Import[] = files.flatMap((from) =>
  [...codeOf(from).matchAll(IMPORT)].map(([, , type, names, named, later, bare]) => {
    const specifier = named ?? later ?? bare ?? '';
    const to = specifier.startsWith('.') ? sourceOf(join(dirname(from), specifier)) : specifier;
    const onlyTypes =
      names?.startsWith('{') && names.split(',').every((name) => /^[{\s]*(type\s|\}?$)/.test(name));
    return { from, to, runs: !type && !onlyTypes };
  }),
);
const inside = imports.filter(({ to }) => /\.tsx?$/.test(to));
const say = ({ from, to }: Import) => `${from} imports ${to}`;

describe('the rooms of src', () => {
  it('are those of the list, and every import leads to a file of theirs', () => {
    expect([...new Set(files.filter((file) => file.includes('/')).map(room))].sort()).toEqual(
      [...ROOMS].sort(),
    );
    expect(inside.filter(({ to }) => !files.includes(to)).map(say)).toEqual([]);
    expect(inside.length).toBeGreaterThan(300);
  });

  it('import only from rooms before them', () => {
    const back = inside.filter(
      ({ from, to }) => from.includes('/') && ROOMS.indexOf(room(to)) > ROOMS.indexOf(room(from)),
    );
    expect(back.map(say)).toEqual([]);
  });

  it('hold no circles between files, types included', () => {
    expect(circles(inside)).toEqual([]);
  });

  it.each(PURE)('%s is pure: no module of Node', (pure) => {
    const ofNode = imports.filter(
      ({ from, to }) => room(from) === pure && (to.startsWith('node:') || builtinModules.includes(to)),
    );
    expect(ofNode.map(say)).toEqual([]);
  });

  it('the page runs on the pure rooms and on words, and takes only types from the rest', () => {
    const allowed = [...PURE, ...SHARED];
    const others = imports.filter(
      ({ from, to, runs }) =>
        from.startsWith(PAGE) &&
        runs &&
        !to.startsWith(PAGE) &&
        (to.startsWith('node:') ||
          builtinModules.includes(to) ||
          (/\.tsx?$/.test(to) && !allowed.includes(room(to)))),
    );
    expect(others.map(say)).toEqual([]);
  });

  it('reach from the page to the front without Node, in a bundle of known size', async () => {
    const entry = [
      'engine/evidence',
      'engine/pipeline',
      'score/replayed',
      'sweep/for-camera',
      'sweep/sweep',
      'tune/tune',
    ];
    const text = entry.map((file) => `export * from ${JSON.stringify(join(SRC, `${file}.ts`))};`).join('\n');
    const built = await build({
      configFile: false,
      logLevel: 'silent',
      plugins: [
        {
          name: 'core',
          resolveId: (id) => (id === 'core' ? id : null),
          load: (id) => (id === 'core' ? text : null),
        },
      ],
      build: {
        write: false,
        minify: true,
        rolldownOptions: { input: 'core', preserveEntrySignatures: 'strict', external: [/^node:/] },
      },
    });
    const [output] = Array.isArray(built) ? built : [built];
    if (!output || !('output' in output)) throw new Error('vite built nothing');
    const chunks = output.output.flatMap((part) => (part.type === 'chunk' ? [part] : []));
    const ofNode = chunks.flatMap(({ imports: wanted, dynamicImports }) => [...wanted, ...dynamicImports]);
    expect(ofNode).toEqual([]);
    const bytes = gzipSync(chunks.map(({ code }) => code).join('')).length;
    console.log(`core for a browser: ${(bytes / 1000).toFixed(1)} kB gzipped`);
    expect(bytes).toBeGreaterThan(5000);
    expect(bytes).toBeLessThan(MOST_BYTES);
  });
});

/** Every circle of files that import one another, each once, as the path around it (depth first, Tarjan 1972). */
function circles(edges: readonly Import[]): string[] {
  const next = new Map<string, string[]>();
  for (const { from, to } of edges) next.set(from, [...(next.get(from) ?? []), to]);
  const found: string[] = [];
  const state = new Map<string, 'open' | 'done'>();
  const path: string[] = [];
  const visit = (file: string): void => {
    if (state.get(file) === 'done') return;
    if (state.get(file) === 'open') {
      found.push([...path.slice(path.indexOf(file)), file].join(' -> '));
      return;
    }
    state.set(file, 'open');
    path.push(file);
    for (const to of next.get(file) ?? []) visit(to);
    path.pop();
    state.set(file, 'done');
  };
  for (const file of next.keys()) visit(file);
  return found;
}
