import { parseHTML } from 'linkedom';
import { expect, test } from 'vitest';
import { type PlaceMap, placeMap } from '../../src/report/figures/place-map.js';
import { expectAsDrawn } from '../support/drawing.js';
import { logPile } from './diagnosis-example.js';

const { columns, rows, explained, animals } = logPile.places;
const corner: [number, number][] = [
  [0, 0.58],
  [0.27, 1],
  [0, 1],
];
const top: [number, number][] = [
  [0, 0],
  [1, 0],
  [1, 0.1],
  [0, 0.1],
];
const bare: PlaceMap = { backdrop: 'backdrop-1', aspect: 0.75, masked: [], proposed: [], counted: null };
const triggers: PlaceMap = {
  ...bare,
  masked: [top],
  proposed: [corner],
  counted: { columns, rows, counts: explained, mark: 'square', unit: 'triggers' },
};
const visits: PlaceMap = {
  ...bare,
  counted: { columns, rows, counts: animals, mark: 'shade', unit: 'visits' },
};
const none: PlaceMap = {
  ...visits,
  backdrop: null,
  counted: { columns, rows, counts: animals.map(() => 0), mark: 'shade', unit: 'visits' },
};

const maps = {
  'place-map-triggers': triggers,
  'place-map-visits': visits,
  'place-map-none': none,
  'place-map-mask': { ...bare, proposed: [corner] },
};

test.each(Object.entries(maps))('%s is drawn as in its snapshot', (name, map) =>
  expectAsDrawn(placeMap(map, 'map', 'Log pile'), name),
);

test('the area of a square goes with its count', () => {
  const counts = [1, 4, 9, 0];
  const svg = placeMap(
    { ...bare, counted: { columns: 4, rows: 1, counts, mark: 'square', unit: 'triggers' } },
    'map',
    'A map',
  );
  const [drawn] = parseHTML(svg).document.querySelectorAll('path[fill="none"]');
  const widths = [...(drawn?.getAttribute('d') ?? '').matchAll(/h([\d.]+)v/g)].map((m) => Number(m[1]));
  expect(widths).toHaveLength(3);
  expect(widths[1]! / widths[0]!).toBeCloseTo(2, 1);
  expect(widths[2]! / widths[0]!).toBeCloseTo(3, 1);
});

test('a shade is the darker the higher its count, covers its cell and lets the scene show through', () => {
  const counts = [1, 4, 9, 0];
  const svg = placeMap(
    { ...bare, counted: { columns: 4, rows: 1, counts, mark: 'shade', unit: 'visits' } },
    'map',
    'A map',
  );
  // Those of the key come after those of the picture.
  const cells = [...parseHTML(svg).document.querySelectorAll('rect[fill-opacity]')].slice(0, 3);
  const darkness = cells.map((cell) => Number(cell.getAttribute('fill-opacity')));
  expect(darkness[0]).toBeGreaterThan(0);
  expect(darkness[1]).toBeGreaterThan(darkness[0]!);
  expect(darkness[2]).toBeGreaterThan(darkness[1]!);
  expect(darkness[2]).toBeLessThan(1);
  const [left, width] = ['x', 'width'].map((name) => cells.map((cell) => Number(cell.getAttribute(name))));
  expect(left!.map((x, i) => x + width![i]!).slice(0, 2)).toEqual(left!.slice(1));
});

test('the description names the places with the highest counts', () => {
  const counts = [0, 0, 2, 0, 5, 0, 7, 0, 0];
  const svg = placeMap(
    { ...bare, counted: { columns: 3, rows: 3, counts, mark: 'square', unit: 'triggers' } },
    'map',
    'A map',
  );
  expect(svg).toContain('Most triggers in one place: lower left 7, middle 5, upper right 2.');
});

test('nothing to show is said in the key and in the description', () => {
  const svg = placeMap(none, 'map', 'A map');
  expect(svg).toContain('>none</text>');
  expect(svg).toContain('No visits.');
});

test('what is masked now and what would be masked differ by their dashes', () => {
  const dashes = [...placeMap(triggers, 'map', 'A map').matchAll(/stroke-dasharray="([^"]+)"/g)].map(
    (m) => m[1],
  );
  expect(new Set(dashes).size).toBe(2);
});
