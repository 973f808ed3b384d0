import { stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { z } from 'zod';
import { hint, Problem } from '../../../base/problem.js';
import { quoted } from '../../../base/text.js';
import { readJson } from '../../../files/read-json.js';
import { isThere } from '../../../files/regular.js';
import { labelsSchema } from '../../../score/labels.js';
import { OWN, type Own } from './descriptor.js';

/** A table of a package: its file, and what parts its cells. */
export interface TableFile {
  file: string;
  delimiter: string;
}

export interface Package {
  observations: TableFile;
  /** Null: the package names none, or the observations came alone. */
  deployments: TableFile | null;
  /** What this program kept there for itself. */
  own: Own;
}

const DESCRIPTOR = 'datapackage.json';
const EXPECTED = 'the descriptor of a Camtrap DP package';

const resourceSchema = z.looseObject({
  name: z.string(),
  path: z.union([z.string(), z.array(z.string())]).optional(),
  dialect: z
    .looseObject({ delimiter: z.enum([',', ';', '\t', '|']).optional() })
    .optional()
    .catch(undefined),
  encoding: z.string().optional(),
});
const descriptorSchema = z.looseObject({
  resources: z.array(resourceSchema),
  [OWN]: labelsSchema.pick({ mask: true, foliage: true }).optional(),
});

/**
 * The tables that are meant: those of a package by its folder or by its descriptor, or the observations alone, with what lies
 * beside them.
 * @throws Problem
 */
export async function openPackage(path: string): Promise<Package> {
  if (path.trim() === '') throw new Problem('usage', 'expected the name of a package, found an empty one');
  const isFolder = (await stat(path).catch(() => null))?.isDirectory() === true;
  if (isFolder) return byDescriptor(join(path, DESCRIPTOR));
  if (/\.json$/i.test(path)) return byDescriptor(path);
  const alone: Package = { observations: { file: path, delimiter: ',' }, deployments: null, own: {} };
  const descriptor = join(dirname(path), DESCRIPTOR);
  if (!(await isThere(path)) || !(await isThere(descriptor))) return alone;
  const whole = await byDescriptor(descriptor);
  return basename(whole.observations.file) === basename(path) ? whole : alone;
}

async function byDescriptor(file: string): Promise<Package> {
  const { resources, [OWN]: own = {} } = await readJson(file, descriptorSchema, EXPECTED);
  const table = (name: string): TableFile | null => {
    const found = resources.find((resource) => resource.name === name);
    return found
      ? { file: join(dirname(file), pathOf(found, file)), delimiter: found.dialect?.delimiter ?? ',' }
      : null;
  };
  const observations = table('observations');
  if (observations) return { observations, deployments: table('deployments'), own };
  const names = resources.map(({ name }) => name);
  throw new Problem(
    'bad-field',
    `${file}: resources: expected one called "observations", found ${names.length === 0 ? 'none at all' : quoted(names.join(', '))}${hint('observations', names)}; give a package of Camtrap DP`,
  );
}

/** Files of the package alone: what it names elsewhere is neither fetched nor read. */
function pathOf({ name, path, encoding }: z.output<typeof resourceSchema>, file: string): string {
  const where = `${file}: resources: ${quoted(name)}`;
  const only = Array.isArray(path) && path.length === 1 ? path[0] : path;
  if (typeof only !== 'string' || only === '') {
    const found = Array.isArray(only) ? `${only.length} files` : 'none';
    throw new Problem(
      'bad-field',
      `${where}: expected the path of one CSV file, found ${found}; join them into one`,
    );
  }
  if (/^([a-z][a-z0-9+.-]*:|[\\/~])/i.test(only) || only.split(/[\\/]/).includes('..')) {
    throw new Problem(
      'leaves-folder',
      `${where}: expected a file beside the descriptor, found ${quoted(only)}; put the table there, and its name into the descriptor`,
    );
  }
  if (!/\.(csv|tsv|txt)$/i.test(only)) {
    throw new Problem(
      'bad-field',
      `${where}: expected a CSV file, found ${quoted(only)}; unpack or convert it`,
    );
  }
  if (encoding !== undefined && !/^(utf-?8|us-ascii|ascii)$/i.test(encoding)) {
    throw new Problem(
      'bad-field',
      `${where}: expected UTF-8, found the encoding ${quoted(encoding)}; save the table as UTF-8`,
    );
  }
  return only;
}
