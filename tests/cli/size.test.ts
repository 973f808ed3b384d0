import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { commandIn } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'size-'));
afterAll(() => rmSync(folder, { recursive: true }));
const perchmark = commandIn(folder);
writeFileSync(
  join(folder, 'camera.json'),
  JSON.stringify({
    version: 1,
    name: 'large camera',
    analysis: { width: 1280, height: 960, rate: 5 },
    reference: { kind: 'previous' },
    lens: { hfov: 62.2 },
    controls: { minimumArea: { sets: 'minimumArea', choices: [50, 100, 200, 400, 800] } },
  }),
);
const size = (...args: string[]) => perchmark('size', ...args);

describe('size', () => {
  // 33.6 pixels at 3 m, 62.2 degrees, 1280 pixels across, from 9.5 cm: the length from memory, the rest computed.
  it('tells pixels, area, where to start, and how far', async () => {
    const { code, out } = await size(
      '--camera',
      'camera.json',
      '--length',
      '9.5',
      '--distance',
      '3',
      '--json',
    );
    expect(code).toBe(0);
    const told = JSON.parse(out);
    expect(told.pixels).toBeCloseTo(33.6, 1);
    expect(told).toMatchObject({ camera: 'large camera', animal: null, minimumArea: 200 });
    expect(told.farthest).toBeGreaterThan(3);
  });

  it('knows how long animals are, and says where from', async () => {
    const by = ['--camera', 'camera.json', '--distance', '3'];
    const named = await size('--animal', 'wren', ...by);
    expect(named.out).toMatch(/wren, 3 m away: 34 pixels long/);
    expect(named.out).toContain('a wren 9.5 cm long (9 to 10, from memory)');
    const told = JSON.parse((await size('--animal', 'Moorhen', ...by, '--json')).out);
    expect(told).toMatchObject({ animal: 'moorhen', lengthCm: { value: 33.5, low: 30, high: 35 } });
    expect(told.assumed.join()).toContain('bird guides');
  });

  it('says when it is too far, too near, or as thin as what is smoothed', async () => {
    const by = ['--length', '9.5', '--distance'];
    expect((await size(...by, '9')).out).toMatch(
      /smaller\s+than\s+the\s+lowest\s+minimumArea,\s+25.*thinner\s+than\s+the\s+3/s,
    );
    expect((await size(...by, '0.05')).out).toMatch(/larger\s+than\s+the\s+frame\s+of\s+320/);
    expect((await size(...by, '2')).out).not.toMatch(/smaller than|larger than|thinner/);
  });

  it('tells the range of lengths in all that follows from it, and where the shortest do not fire', async () => {
    const at = (metres: string) =>
      size('--camera', 'camera.json', '--animal', 'hedgehog', '--distance', metres).then(({ out }) =>
        out.replace(/\s+/g, ' '),
      );
    const near = await at('3');
    // 88.4 pixels of 25 cm: 71 of 20 and 106 of 30; areas of 3070, 1965 and 4420.
    expect(near).toMatch(/length 88 \(71–106\) area to expect 3070 \(1965–4420\)/);
    expect(near).toMatch(/fires up to 5\.9 m \(4\.7 m–7\.1 m\) away from the side/);
    // The lowest is 50: at 23 m there are 52 of 25 cm, 33 of 20.
    expect(await at('23')).toContain('One of the shortest that are common does not fire');
    expect((await size('--length', '25', '--distance', '3')).out).not.toMatch(/\(\d+–\d+\)/);
  });

  it('draws it to scale, the same bytes each time', async () => {
    const draw = (file: string) => size('--animal', 'wren', '--distance', '2', '--drawing', file);
    expect((await draw('one.svg')).out).toContain('Drawn to scale in one.svg');
    await draw('two.svg');
    const svg = readFileSync(join(folder, 'one.svg'), 'utf8');
    expect(svg).toMatch(/^<svg xmlns=/);
    expect(readFileSync(join(folder, 'two.svg'), 'utf8')).toBe(svg);
  });

  it.each<[string[], RegExp]>([
    [['--distance', '2'], /size: expected how long the animal is; give --length or --animal/],
    [['--length', '9', '--animal', 'wren', '--distance', '2'], /'--length <cm>' cannot be used with/],
    [['--animal', 'wern', '--distance', '2'], /--animal: expected one of wren, .*did you mean 'wren'/],
    [['--animal', 'toString', '--distance', '2'], /--animal: expected one of wren/],
    [['--animal', 'wren'], /required option '--distance <m>' not specified/],
    [['--length', '9', '--distance', '0'], /Expected a number of metres from 0\.01/],
    [['--length', 'long', '--distance', '2'], /Expected a number of centimetres/],
    [
      ['--length', '9', '--distance', '2', '--drawing', 'camera.json', '--camera', 'camera.json'],
      /camera\.json/,
    ],
    [
      ['--animal', 'wren', '--distance', '2', '--drawing', 'report.html'],
      /an SVG file, found "report\.html"/,
    ],
  ])('refuses %j in one line and draws nothing', async (args, message) => {
    const drawing = args.includes('--drawing') ? [] : ['--drawing', 'not.svg'];
    const { code, out, err } = await size(...drawing, ...args);
    expect({ code, out, lines: err.trim().split('\n').length }).toEqual({ code: 2, out: '', lines: 1 });
    expect(err).toMatch(message);
    expect(existsSync(join(folder, 'not.svg'))).toBe(false);
  });
});
