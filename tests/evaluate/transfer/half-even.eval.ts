import { it } from 'vitest';
import { workOutHalf } from './site.js';

it('works out the even yards', () => workOutHalf(0));
