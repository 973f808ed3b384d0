import { describe, expect, it } from 'vitest';
import {
  beganIn,
  beginningOf,
  chosenFrom,
  freeName,
  nameProblem,
  plainName,
  tellTimes,
} from '../../src/workbench/page/views/bring-in/chosen.js';

const files = (...names: string[]) => names.map((name) => new File(['x'], name));

describe('when it began', () => {
  it.each([
    ['VID_20260611_102000.mp4', '2026-06-11T10:20:00'],
    ['IMG_20260612_150000200.jpg', '2026-06-12T15:00:00'],
    ['2026:05:04 06:10:00', '2026-05-04T06:10:00'],
    ['20261340_102000.mp4', ''],
    ['DSC00001.jpg', ''],
  ])('%s tells %j', (text, began) => expect(beganIn(text)).toBe(began));

  it('is told by what stands inside the first picture where its name does not', async () => {
    const picture = new File(['Exif..2026:05:04 06:10:00..'], 'DSC00001.jpg');
    expect(await beginningOf([picture, ...files('DSC00002.jpg')])).toBe('2026-05-04T06:10:00');
    expect(await beginningOf([])).toBe('');
  });
});

describe('what was chosen', () => {
  it('is a folder of stills, in the order of their numbers, whatever else lies in it', () => {
    const chosen = chosenFrom(files('img10.jpg', 'img9.jpg', 'notes.txt', '.thumbs.jpg'), 'May');
    expect(chosen).toMatchObject({ kind: 'stills', name: 'May', bytes: 2 });
    expect(chosen.kind === 'stills' && chosen.files.map(({ name }) => name)).toEqual([
      'img9.jpg',
      'img10.jpg',
    ]);
  });

  it('is a video, named after its file', () => {
    expect(chosenFrom(files('hedge.mp4'), '')).toMatchObject({ kind: 'video', name: 'hedge' });
  });

  it.each([
    [files('a.mp4', 'b.jpg'), 'together'],
    [files('a.mp4', 'b.mov'), '2 videos'],
    [files('a.txt', 'b.doc'), 'Of 2 files none'],
    [[], 'nothing in it'],
  ])('is refused where it is not one recording: %#', (given, why) => {
    const chosen = chosenFrom(given, 'x');
    expect(chosen.kind === 'nothing' && chosen.why).toContain(why);
  });
});

describe('a name for the clip', () => {
  it('is one that no clip has', () => {
    expect(freeName('hedge', ['hedge', 'hedge 2'])).toBe('hedge 3');
  });
  it.each([
    ['../etc', '-etc'],
    ['..', 'my clip'],
    ['a/b', 'a-b'],
    ['a\nb', 'ab'],
  ])('of %j is plain: %j', (given, plain) => {
    expect(plainName(given)).toBe(plain);
  });
});

describe('what is known before anything is sent', () => {
  it.each([
    ['img_0001.jpg', 'no time inside', false],
    ['20260504_061000.jpg', '', true],
    ['cam-1777871400123.jpg', '', true],
    ['img_0001.jpg', 'Exif 2026:05:04 06:10:00', true],
  ])('%s with "%s" tells its time: %s', async (name, content, tells) => {
    expect(await tellTimes([new File([content], name)])).toBe(tells);
  });

  it('a name that is taken, or that no folder may have', () => {
    expect(nameProblem('hedge', ['pond'])).toBeNull();
    expect(nameProblem('pond', ['pond'])).toMatch(/already/);
    expect(nameProblem('a/b', [])).toMatch(/without slashes/);
    expect(nameProblem('.hidden', [])).toMatch(/dot in front/);
  });
});
