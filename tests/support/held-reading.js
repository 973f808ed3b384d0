import { promises } from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import { basename } from 'node:path';

// Loaded into a process before the program: whoever opens a clip waits for ever, so that it is at work on a job until it is
// ended, however fast the machine is; and says so in a file.
const { open, writeFile } = promises;
promises.open = async (path, ...more) => {
  if (basename(String(path)) !== 'clip.json') return open(path, ...more);
  await writeFile(process.env.HELD_READING, '');
  return new Promise(() => undefined);
};
syncBuiltinESMExports();
