import { makeFolderAtomically } from '../files/folder.js';
import { jsonSchemaNamed, schemasListed } from '../jobs/schemas.js';

/** Makes a folder of all JSON Schemas, as files that an editor can be pointed at; part of the build. */
const dir = process.argv[2];
if (dir === undefined) throw new Error('expected a folder to make');
await makeFolderAtomically(dir, async (folder) => {
  for (const { name } of schemasListed) {
    await folder.writeJson(`${name}.schema.json`, await jsonSchemaNamed(name));
  }
});
