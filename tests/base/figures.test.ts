import { expect, test } from 'vitest';
import { figure, significant } from '../../src/base/figures.js';

test.each([
  [1234.5, 3, '1230'],
  [0.0012345, 3, '0.00123'],
  [0.5, 3, '0.5'],
  [99.96, 3, '100'],
  [1234.5, 6, '1234.5'],
])('%d to %d significant figures is %s', (x, digits, text) => {
  expect(significant(x, digits)).toBe(text);
});

test.each([
  [0, '0'],
  [0.0449, '0.04'],
  [0.96, '1'],
  [1.25, '1.3'],
  [42.4, '42'],
  [999.4, '999'],
  [12_345.6, '12346'],
])('%d is told as %s', (x, text) => {
  expect(figure(x)).toBe(text);
});
