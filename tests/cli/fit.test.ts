import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { drawFrames, writeClip } from '../support/clips.js';
import { commandIn } from '../support/command.js';
import { writePhotos } from '../support/photos.js';

// A fit takes ten seconds of a processor, and many times that where others want it too.
vi.setConfig({ testTimeout: 600_000, hookTimeout: 600_000 });
const folder = mkdtempSync(join(tmpdir(), 'fit-'));
afterAll(() => rmSync(folder, { recursive: true }));
const perchmark = commandIn(folder);
const write = (name: string, text: string) => writeFileSync(join(folder, name), text);

beforeAll(async () => {
  const frames = drawFrames(
    500,
    (k) => (k >= 40 && k % 40 < 6 ? { x: 4 + 7 * (k % 40), y: 10 + (k % 3), size: 8, level: 190 } : null),
    'cli fit',
  );
  await writeClip(join(folder, 'clip'), frames, null, { rate: 5, start: '2026-05-09T06:00:00+01:00' });
  const fired = Array.from({ length: 12 }, (_, i) => 8 * (i + 1));
  write('fired.csv', `fired\n${fired.join('\n')}\n`);
  write('two-columns.csv', 'fired\n3,4\n');
  write(
    'of-day.csv',
    `photo;time\n${fired.map((time, i) => `IMG_${i}.JPG;06:0${Math.floor(time / 60)}:${String(time % 60).padStart(2, '0')}`).join('\n')}\n`,
  );
  write('six.csv', fired.slice(0, 6).join('\n'));
  write('words.csv', 'fired\nsoon\n');
  write('none.json', '[]');
  const name = (seconds: number) =>
    `2026-05-09 06:${String(Math.floor(seconds / 60)).padStart(2, '0')}:${String(seconds % 60).padStart(2, '0')}`;
  // Two photos at each trigger, by a clock 20 s ahead.
  const photos = fired.flatMap((time, i) => [
    [`${i}-a.jpg`, name(time + 20)],
    [`${i}-b.jpg`, name(time + 21)],
  ]);
  await writePhotos(join(folder, 'photos'), Object.fromEntries(photos));
  mkdirSync(join(folder, 'empty'));
});

describe('perchmark fit', () => {
  it('tells what it found, and writes files that replay takes', async () => {
    const { code, out } = await perchmark(
      ...['fit', 'clip', '--fired', 'fired.csv', '--write', 'fitted', '--report', 'fit.html'],
    );
    expect(code).toBe(0);
    expect(out).toMatch(
      /^clip: found (a description that fires|\d+ descriptions that fire) as the camera did/,
    );
    expect(out).toMatch(/camera of another make\s+needs\s+its own recording/);
    expect(out).toContain(join('fitted', 'settings.json'));
    expect(out).toContain('fit.html');
    expect(readFileSync(join(folder, 'fit.html'), 'utf8')).toMatch(
      /<title>0:0[78](\.\d)?: the camera fired, and so does the description</,
    );
    const replayed = await perchmark(
      ...['replay', 'clip', '--camera', 'fitted/camera.json', '--settings', 'fitted/settings.json', '--json'],
    );
    expect(replayed.code).toBe(0);
    const triggers = JSON.parse(replayed.out).clips[0].triggers.map(({ time }: { time: number }) => time);
    expect(triggers.length).toBe(12);
    for (const [i, time] of triggers.entries()) expect(Math.abs(time - 8 * (i + 1))).toBeLessThan(0.5);
  });

  it('takes times of day beside the names of photos', async () => {
    const { code, out } = await perchmark('fit', 'clip', '--fired', 'of-day.csv', '--json');
    expect(code).toBe(0);
    const found = JSON.parse(out);
    expect(found.fired).toMatchObject({ given: 12, onClip: 12 });
    expect(found.assumed[0]).toMatch(/are times of day by the clock of the clip's start/);
    expect(Math.abs(found.offset)).toBeLessThan(1);
  });

  it('writes nothing where it is too little to tell, and says so', async () => {
    const { code, err } = await perchmark('fit', 'clip', '--fired', 'six.csv', '--write', 'few');
    expect(code).toBe(0);
    expect(err).toContain('too little to tell, so nothing is written into few');
    expect(existsSync(join(folder, 'few'))).toBe(false);
  });

  it('takes the photos of one burst for one trigger, and finds what the clock is ahead', async () => {
    const { code, out } = await perchmark('fit', 'clip', '--fired', 'photos', '--json');
    expect(code).toBe(0);
    const found = JSON.parse(out);
    expect(found.fired).toEqual({ given: 24, triggers: 12, onClip: 12, afterPause: 12, photosEach: 2 });
    expect(Math.abs(found.offset - 20)).toBeLessThan(1);
    expect(found.assumed).toEqual([expect.stringContaining('without a zone')]);
    expect(found.notes[0]).toBe('24 photos, 2 a trigger, 1 s apart: 12 triggers, each at its first photo');
    expect(readFileSync(join(folder, 'clip', 'clip.json'), 'utf8')).toContain('frames/*.png');
  });

  it('counts photos as the owner says', async () => {
    const { code, out } = await perchmark('fit', 'clip', '--fired', 'photos', '--photos', '1', '--json');
    expect(code).toBe(0);
    const { fired, notes } = JSON.parse(out);
    expect(fired).toMatchObject({ given: 24, triggers: 24, photosEach: 1 });
    expect(notes[0]).toBe('24 photos, each taken as a trigger of its own, as you say');
  });

  it.each([
    ['0', /--photos.*whole number of photos from 1 to 1000/],
    ['1.5', /--photos.*whole number of photos from 1 to 1000/],
    ['25', /--photos: expected at most as many photos a trigger as there are \(24 in photos\), found 25/],
  ])('refuses %s photos a trigger', async (each, message) => {
    const { code, err, out } = await perchmark('fit', 'clip', '--fired', 'photos', '--photos', each);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toMatch(message);
    expect(err.trim().split('\n')).toHaveLength(1);
  });

  it.each<[string, RegExp]>([
    ['gone.csv', /gone\.csv.*fired times/],
    ['two-columns.csv', /two-columns\.csv: line 2: expected one column of fired times, .* found 2 columns/],
    ['words.csv', /words\.csv: line 2: expected seconds .*found "soon"/],
    ['none.json', /none\.json: expected fired times, .*found none/],
    ['empty', /empty: the folder holds no photos/],
  ])('refuses %s in one line', async (fired, message) => {
    const { code, err, out } = await perchmark('fit', 'clip', '--fired', fired);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toMatch(message);
    expect(err.trim().split('\n')).toHaveLength(1);
  });

  it('writes nothing into the clip', async () => {
    const { code, err } = await perchmark('fit', 'clip', '--fired', 'fired.csv', '--write', 'clip/fitted');
    expect(code).toBe(2);
    expect(err).toContain('lies in the clip');
  });
});
