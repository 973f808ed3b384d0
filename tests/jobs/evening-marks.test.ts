import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { marksCsv, readMarks } from '../../src/jobs/evening/marks.js';
import type { Seen } from '../../src/outing/evening/photo.js';
import { scratch } from '../support/workbench.js';

const photos = ['a.jpg', 'b.jpg', '100/c.jpg', '101/c.jpg', 'x, y.jpg'].map((name) => ({ name }));

async function read(text: string | Buffer, of = photos) {
  const file = join(scratch(), 'marks.csv');
  writeFileSync(file, text);
  const told: string[] = [];
  const marks = await readMarks(file, of, (line) => told.push(line.replace(file, 'marks.csv')));
  return { marks: Object.fromEntries(marks), told };
}

describe('marks of an evening', () => {
  it.each([
    ['as written', 'photo,seen\na.jpg,animal\nb.jpg,\n"x, y.jpg",person\n'],
    ['by a spreadsheet with semicolons', 'photo;seen\r\na.jpg;animal\r\nx, y.jpg;person\r\n'],
    ['with tabs', 'photo\tseen\na.jpg\tanimal\nx, y.jpg\tperson'],
    [
      'with a byte order mark, blanks and capitals',
      '\ufeffPhoto, Seen\n a.jpg , Animal\n\n"x, y.jpg",PERSON\n,\n',
    ],
    ['with columns the other way round', 'seen,photo\nanimal,a.jpg\nperson,"x, y.jpg"\n'],
    ['twice the same', 'photo,seen\na.jpg,animal\na.jpg,animal\na.jpg,\n"x, y.jpg",person\n'],
  ])('are read %s', async (_, text) => {
    expect(await read(text)).toEqual({ marks: { 'a.jpg': 'animal', 'x, y.jpg': 'person' }, told: [] });
  });

  it('are found by the name alone where one photo is called so, and by either kind of slash', async () => {
    const { marks } = await read('photo,seen\n100\\c.jpg,nothing\n./101/c.jpg,animal\n', photos);
    expect(marks).toEqual({ '100/c.jpg': 'nothing', '101/c.jpg': 'animal' });
    expect((await read('photo,seen\nc.jpg,animal\n', [{ name: '100/c.jpg' }])).marks).toEqual({
      '100/c.jpg': 'animal',
    });
  });

  it('are found where letters are written in another way', async () => {
    const composed = 'caf\u00e9.jpg';
    const { marks } = await read(`photo,seen\ncafe\u0301.jpg,animal\n`, [{ name: composed }]);
    expect(marks).toEqual({ [composed]: 'animal' });
  });

  it('tell of columns that say nothing', async () => {
    const { told } = await read('photo,seen,species\na.jpg,animal,wren\n');
    expect(told).toEqual(['marks.csv: columns that say nothing here were left alone: species']);
  });

  it('of photos that are gone are told of where others are there', async () => {
    expect(await read('photo,seen\na.jpg,animal\ngone.jpg,nothing\nx.jpg,\naa.jpg,person\n')).toEqual({
      marks: { 'a.jpg': 'animal' },
      told: [
        'marks.csv: marks of 2 photos that are not there any more are left as they are, the first in line 3 ("gone.jpg"); a name that was mistyped is to be mended',
      ],
    });
  });

  it('of a photo that is gone are not those of one called so in a folder, which has its own', async () => {
    const of = [{ name: '100/a.jpg' }];
    const { marks } = await read('photo,seen\na.jpg,animal\n100/a.jpg,nothing\n', of);
    expect(marks).toEqual({ '100/a.jpg': 'nothing' });
  });

  it.each([
    ['an empty file', '', /the file is empty; expected marks/],
    [
      'no header',
      'a.jpg,animal\n',
      /line 1: expected a column called photo in the header, found "a.jpg,animal"/,
    ],
    ['a header without seen', 'photo,what\na.jpg,animal\n', /line 1: expected a column called seen/],
    [
      'a column twice',
      'photo,seen,seen\n',
      /line 1: expected a column called seen in the header, found it twice/,
    ],
    [
      'a word that is none',
      'photo,seen\na.jpg,animal\nb.jpg,anmal\n',
      /line 3: seen: expected animal, nothing, person or an empty cell, found "anmal" \(did you mean 'animal'\?\)/,
    ],
    [
      'a photo that is not there',
      'photo,seen\naa.jpg,animal\n',
      /line 2: "aa.jpg": expected the name of a photo in the folder, found none called so \(did you mean 'a.jpg'\?\)/,
    ],
    [
      'different marks of one photo',
      'photo,seen\na.jpg,animal\nb.jpg,nothing\na.jpg,nothing\n',
      /line 4: "a.jpg": expected one mark for each photo, found nothing here and animal in line 2/,
    ],
    [
      'a name of two photos',
      'photo,seen\nc.jpg,animal\n',
      /line 2: "c.jpg": expected a name of one photo, found 2 called so \("100\/c.jpg", "101\/c.jpg"\)/,
    ],
    [
      'too many cells',
      'photo,seen\nx, y.jpg,animal\n',
      /line 2: expected 2 columns as in the header, found 3/,
    ],
    ['a quotation mark that is not closed', 'photo,seen\n"a.jpg,animal\n', /quotation mark out of place/],
    [
      'a quotation mark within a name',
      'photo,seen\nb.jpg,nothing\na".jpg,animal\n',
      /line 3: .*quotation mark out of place/,
    ],
    ['another encoding', Buffer.from('photo,seen\ncaf\xe9.jpg,animal\n', 'latin1'), /expected UTF-8 text/],
  ])('refuse %s in one line', async (_, text, line) => {
    const error = await read(text).then(
      () => null,
      (thrown: Error) => thrown,
    );
    expect(error).toMatchObject({ name: 'Problem' });
    expect(error!.message).toMatch(line);
    expect(error!.message).not.toContain('\n');
  });

  it('are written so that no name is a formula or a command to a terminal, and read again', async () => {
    const names = ['=cmd|calc.jpg', '+1.jpg', '-2.jpg', '@x.jpg', ' =3.jpg', '\x1b[2Ja.jpg', '\u009b2Jb.jpg'];
    const of = names.map((name) => ({ name }));
    const marks = new Map(
      names.map((name, i) => [name, i % 2 === 0 ? ('animal' as const) : ('nothing' as const)]),
    );
    const text = marksCsv(of, marks);
    for (const row of text.split('\n')) expect(row).not.toMatch(/^"?\s*[=+\-@]/);
    expect(text.replaceAll('\n', '')).not.toMatch(/\p{Cc}/u);
    expect((await read(text, of)).marks).toEqual(Object.fromEntries(marks));
  });

  it('of names that would be written alike are kept apart', async () => {
    const of = ['\x1b.jpg', '\u241b.jpg'].map((name) => ({ name }));
    const marks = new Map<string, Seen>([
      ['\x1b.jpg', 'animal'],
      ['\u241b.jpg', 'nothing'],
    ]);
    expect((await read(marksCsv(of, marks), of)).marks).toEqual(Object.fromEntries(marks));
  });

  it('are the same when they were written and read again, whatever photos are called', async () => {
    const name = fc
      .string({ unit: 'grapheme', minLength: 1, maxLength: 12 })
      .map((text) => `${text.replaceAll('/', '-').replaceAll('\0', '0')}.jpg`);
    const mark = fc.constantFrom<Seen[]>('animal', 'nothing', 'person');
    await fc.assert(
      fc.asyncProperty(
        fc.uniqueArray(fc.tuple(name, mark), { selector: ([one]) => one.normalize().trim(), maxLength: 8 }),
        async (rows) => {
          const marks = new Map(rows);
          const of = rows.map(([one]) => ({ name: one }));
          expect((await read(marksCsv(of, marks), of)).marks).toEqual(Object.fromEntries(marks));
        },
      ),
      { numRuns: 60 },
    );
  });
});
