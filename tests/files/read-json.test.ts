import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { readJson } from '../../src/files/read-json.js';
import { unreadable } from '../../src/files/regular.js';

const folder = mkdtempSync(join(tmpdir(), 'read-json-'));
afterAll(() => rmSync(folder, { recursive: true }));

const schema = z.strictObject({ name: z.string() });
const read = (file: string) => readJson(file, schema, 'a name');
const written = (bytes: string | Buffer): string => {
  const file = join(folder, 'a.json');
  writeFileSync(file, bytes);
  return file;
};

describe('the text of a file', () => {
  it.each([
    ['with a byte order mark', '\uFEFF{"name":"Gärten"}'],
    ['with line breaks of another system', '{\r\n"name":\r\n"Gärten"\r\n}\r\n'],
  ])('%s is read', async (_, text) => {
    expect(await read(written(text))).toEqual({ name: 'Gärten' });
  });

  it.each([
    [
      'UTF-16, little end first',
      Buffer.from('\uFEFF{"name":"a"}', 'utf16le'),
      /expected UTF-8 text, found UTF-16; save/,
    ],
    [
      'UTF-16, big end first',
      Buffer.from('\uFEFF{}', 'utf16le').swap16(),
      /expected UTF-8 text, found UTF-16; save/,
    ],
    ['UTF-16 without a mark', Buffer.from('{"name":"a"}', 'utf16le'), /not valid JSON/],
    [
      'Latin 1',
      Buffer.from('{"name":"G\xe4rten"}', 'latin1'),
      /expected UTF-8 text, found bytes that are none/,
    ],
    ['with a NUL byte', Buffer.from('{"name":"a\0b"}'), /not valid JSON/],
    [
      'with a comma missing, by its line',
      '{"name": "a"\n "b": 1}',
      /not valid JSON \(Expected .*, line 2 at letter 2\)/,
    ],
    ['that is empty', '', /the file is empty; expected a name/],
  ])('%s is refused', async (_, bytes, told) => {
    await expect(read(written(bytes))).rejects.toMatchObject({
      code: 'not-json',
      message: expect.stringMatching(told),
    });
  });
});

describe('a file that cannot be one', () => {
  it.skipIf(process.platform === 'win32').each([
    ['/dev/null', /this is a device; expected a name/],
    ['/dev/zero', /this is a device; expected a name/],
    [folder, /this is a folder; expected a name/],
    [join(folder, 'nothing'), /there is no such file; expected a name/],
    [join(folder, 'n'.repeat(300)), /cannot be read \(ENAMETOOLONG\)/],
  ])('%s is refused', async (file, told) => {
    await expect(read(file)).rejects.toMatchObject({
      name: 'Problem',
      message: expect.stringMatching(told),
    });
  });

  it.skipIf(process.platform === 'win32')('a pipe nobody writes to is not waited for', async () => {
    const pipe = join(folder, 'pipe.json');
    execFileSync('mkfifo', [pipe]);
    await expect(read(pipe)).rejects.toThrow(/this is a named pipe; expected a name/);
  });

  it('a file of gigabytes is refused before it is read', async () => {
    const file = written('{}');
    truncateSync(file, 5 * 2 ** 30);
    await expect(read(file)).rejects.toThrow(
      /is 5120 MB long; expected a name, which takes no more than 256 MB/,
    );
  });

  it('says what a fault of the system means', async () => {
    const denied = Object.assign(new Error(), { code: 'EACCES' });
    expect(await unreadable('a.json', denied, 'a name')).toMatchObject({
      code: 'file-unreadable',
      message: expect.stringMatching(
        /^a\.json: cannot be read \(EACCES\): it is not permitted;.*expected a name$/,
      ),
    });
  });
});
