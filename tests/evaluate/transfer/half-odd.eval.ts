import { it } from 'vitest';
import { workOutHalf } from './site.js';

it('works out the odd yards', () => workOutHalf(1));
