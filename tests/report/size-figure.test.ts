import { parseHTML } from 'linkedom';
import { expect, test } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import { exactly } from '../../src/outing/between.js';
import { looksOf } from '../../src/outing/looks.js';
import { sizeFigure } from '../../src/report/figures/size.js';
import { expectAsDrawn } from '../support/drawing.js';

const upright = { ...defaultCamera, analysis: { ...defaultCamera.analysis, width: 120, height: 240 } };
const drawn = (camera = defaultCamera, cm = 25, metres = 1, name: string | null = 'hedgehog') =>
  sizeFigure(looksOf(camera, exactly(cm), metres).looks, camera, name, 'size');

test.each([
  ['size', drawn()],
  ['size-upright', drawn(upright, 9.5, 2, null)],
  ['size-larger-than-frame', drawn(defaultCamera, 67, 0.3, 'red fox')],
])('%s is drawn as in its snapshot', (name, svg) => expectAsDrawn(svg, name));

test('the animal, the square and the bar are to one scale', () => {
  const { document } = parseHTML(drawn());
  const number = (selector: string, name: string) =>
    Number(document.querySelector(selector)?.getAttribute(name));
  const perPixel = number('clipPath rect', 'width') / 320;
  const { looks } = looksOf(defaultCamera, exactly(25), 1);
  expect((2 * number('ellipse', 'rx')) / perPixel).toBeCloseTo(looks.pixels, 0);
  expect(number('ellipse', 'ry') / number('ellipse', 'rx')).toBeCloseTo(0.5, 2);
  expect((number('rect[stroke-dasharray]', 'width') / perPixel) ** 2 / looks.minimumArea).toBeCloseTo(1, 1);
  // The bar of 20 cm is as long as four fifths of 25 cm.
  expect(drawn()).toContain('20 cm at 1 m');
  const bar = /v6h([\d.]+)v-6/.exec(drawn())?.[1];
  expect(Number(bar) / perPixel).toBeCloseTo((looks.pixels * 20) / 25, 0);
});

test('a name is text, whatever it holds', () => {
  expect(drawn(defaultCamera, 25, 1, '<a>')).not.toContain('<a>');
});
