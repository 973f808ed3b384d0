import { parseHTML } from 'linkedom';
import { expect, it } from 'vitest';
import type { PartTold } from '../../src/outing/evening/parts.js';
import { eveningFigure } from '../../src/report/figures/evening.js';

const SIX = Date.UTC(2026, 4, 9, 6) / 1000;
const part = (hour: number, perHour: number, promised: PartTold['promised']): PartTold => ({
  from: SIX + hour * 3600,
  until: SIX + (hour + 1) * 3600,
  conditions: null,
  hours: 1,
  photos: perHour,
  animal: 0,
  nothing: perHour,
  person: 0,
  unmarked: 0,
  precision: null,
  nothingPerHour: { value: perHour, low: perHour / 2, high: 2 * perHour, n: perHour },
  promised,
  more: null,
});
const promised = { value: 6, low: 2, high: 500 };

/** Bars and bands, by where they stand and how tall they are. */
function rects(svg: string): { x: number; height: number; fill: string }[] {
  const { document } = parseHTML(svg);
  return [...document.querySelectorAll('rect')].map((rect) => ({
    x: Number(rect.getAttribute('x')),
    height: Number(rect.getAttribute('height')),
    fill: rect.parentElement?.getAttribute('fill') ?? '',
  }));
}

it('draws a bar for each hour, as tall as photos of nothing came in it', () => {
  const bars = rects(eveningFigure([part(0, 10, null), part(1, 20, null), part(2, 5, null)], 860, 'e'));
  expect(bars).toHaveLength(3);
  expect(bars[1]!.height / bars[0]!.height).toBeCloseTo(2, 1);
  expect(bars[2]!.height / bars[0]!.height).toBeCloseTo(0.5, 1);
  expect(bars.map(({ x }) => x)).toEqual(bars.map(({ x }) => x).sort((a, b) => a - b));
});

it('lays a band over the hours for which something was promised, cut where it goes far beyond what came', () => {
  const all = rects(eveningFigure([part(0, 10, promised), part(1, 10, null)], 350, 'e'));
  const bands = all.filter(({ fill }) => fill.includes('--recommended'));
  expect(bands).toHaveLength(1);
  expect(bands[0]!.height).toBeLessThan(250);
});

it('says all of it in words, and is the same for the same hours', () => {
  const draw = () => eveningFigure([part(0, 10, promised), part(1, 4, null)], 860, 'e');
  expect(draw()).toContain('06:00-07:00: 10 (5–20), promised 6 (2–500); 07:00-08:00: 4 (2–8).');
  expect(draw()).toMatch(/role="img" aria-labelledby="e-title e-desc"/);
  expect(draw()).toBe(draw());
});
