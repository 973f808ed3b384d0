import { it } from 'vitest';
import { drawHalf } from './plan.js';

it('draws the sites of one half', () => drawHalf(0));
