import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { commandIn } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'lasts-'));
afterAll(() => rmSync(folder, { recursive: true }));
const perchmark = commandIn(folder);
const power = { mAh: 10_000, cellVolts: 3.7, efficiency: 0.85, volts: 5, idle: 0.35, photoJoules: 5 };
const write = (name: string, given: object) =>
  writeFileSync(join(folder, name), JSON.stringify({ ...smallCamera, burst: { photos: 2 }, ...given }));

beforeAll(async () => {
  const frames = drawFrames(
    60,
    (k) => (k > 20 && k < 30 ? { x: 5 * (k - 20), y: 20, size: 8, level: 180 } : null),
    'lasts',
  );
  await writeClip(join(folder, 'clip'), frames, { version: 1, visits: [{ start: 4, end: 6 }] });
  write('camera.json', { power });
  write('free.json', { power: { ...power, photoJoules: 0 } });
  write('silent.json', {});
});

const tune = (camera: string, ...args: string[]) =>
  perchmark('tune', 'clip', '--recorded-only', '--camera', camera, ...args);

describe('tune --lasts', () => {
  // At the least 29.6 Wh reach the camera: over 12 h 0.7167 W more than 1.75 W of idling, 516 photos of 5 J an hour.
  it('allows as many photos of nothing as the battery leaves, and says what it reckoned', async () => {
    const { code, out, err } = await tune('camera.json', '--lasts', '12', '--json');
    expect(code).toBe(0);
    // One trigger at the visit in 10 watched seconds is 360 an hour: more than the 258.
    expect(JSON.parse(out)).toMatchObject({
      recommended: { score: { trueTriggers: 1 } },
      allowance: { falsePerHour: 0 },
    });
    expect(err).toMatch(
      /--lasts 12: .*leaves 516 photos an hour, 258 triggers of 2, .*29\.6 Wh.*1\.75 W idle/,
    );
    expect(err).not.toContain('taken as usual');
  });

  // Over 3 h 8.1167 W more than idling, 5844 photos of 5 J an hour, 2922 triggers of 2.
  it('leaves of them what photos at visits take with the settings chosen', async () => {
    const { allowance, recommended } = JSON.parse((await tune('camera.json', '--lasts', '3', '--json')).out);
    const { trueTriggers, watchedHours } = recommended.score;
    expect(trueTriggers).toBeGreaterThan(0);
    expect(allowance.falsePerHour).toBeCloseTo(2922 - trueTriggers / watchedHours, 6);
  });

  it('tells in its result how long the battery lasts with photos at visits, as budget reckons it', async () => {
    const { out } = await tune('camera.json', '--lasts', '12', '--json');
    writeFileSync(join(folder, 'tuned.json'), out);
    const [told] = JSON.parse(out).battery.sites;
    const { batteryHours, photosPerHour } = JSON.parse(
      (await perchmark('budget', '--camera', 'camera.json', '--from', 'tuned.json', '--json')).out,
    );
    expect(told).toEqual({ site: null, hours: batteryHours, photosPerHour });
    const text = (await tune('camera.json', '--lasts', '12')).out;
    expect(text).toMatch(
      /The battery is to last 12 hours\.\s+With these settings it lasts about [\d.]+ hours/,
    );
    expect(text).not.toMatch(/taken as usual/);
  });

  it('names in its result what of the battery was assumed', async () => {
    const { out } = await tune('silent.json', '--lasts', '12');
    expect(out.replace(/\s+/g, ' ')).toMatch(
      /This was taken as usual.*power\.mAh: 10000 mAh.*power\.photoJoules: 5 J/,
    );
  });

  it('keeps it with a probability where that is asked for, and names what stood in', async () => {
    const { out, err } = await tune('silent.json', '--lasts', '12', '--sure', '0.9', '--json');
    expect(JSON.parse(out).allowance.sure).toBe(0.9);
    expect(err).toMatch(/taken as usual: power\.mAh: 10000 mAh/);
  });

  it.each<[string, string[], RegExp]>([
    // 29.6 / 1.75 = 16.9 h.
    ['camera.json', ['--lasts', '17'], /--lasts 17: the battery lasts 16\.9 hours even if no photo is taken/],
    ['free.json', ['--lasts', '5'], /--lasts: .*found power\.photoJoules 0/],
    ['camera.json', ['--lasts', '5', '--worth', '3'], /--lasts and --worth: expected one of them/],
    ['camera.json', ['--lasts', '5', '--false-per-hour', '3'], /--false-per-hour and --lasts: expected one/],
    [
      'camera.json',
      ['--lasts', '5', '--photos-per-day', '3', '--hours-out', '9'],
      /--photos-per-day and --lasts/,
    ],
    ['camera.json', ['--lasts', '0'], /Expected a number of hours/],
  ])('%s %j is refused in one line', async (camera, args, message) => {
    const { code, out, err } = await tune(camera, ...args);
    expect({ code, out, lines: err.trim().split('\n').length }).toEqual({ code: 2, out: '', lines: 1 });
    expect(err).toMatch(message);
  });
});
