import { mkdirSync, readFileSync, rmSync, symlinkSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** What can befall a file, by what is said of it then. */
export const damages: Readonly<Record<string, (file: string) => void>> = {
  'with a byte flipped': (file) => {
    const bytes = readFileSync(file);
    bytes[bytes.length >> 1]! ^= 16;
    writeFileSync(file, bytes);
  },
  'turned to zeros': (file) => writeFileSync(file, Buffer.alloc(readFileSync(file).length)),
  'cut short': (file) => truncateSync(file, readFileSync(file).length >> 1),
  emptied: (file) => truncateSync(file, 0),
  removed: (file) => rmSync(file),
  'replaced by a folder': (file) => {
    rmSync(file);
    mkdirSync(join(file, 'with', 'something in it'), { recursive: true });
  },
  // Permissions keep nothing from the superuser, a link to itself does.
  'made unreadable': (file) => {
    rmSync(file);
    symlinkSync(file, file);
  },
};
