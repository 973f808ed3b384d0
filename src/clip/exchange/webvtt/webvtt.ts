import type { ExchangeFormat } from '../format.js';
import { readWebVtt } from './read.js';
import { writeWebVtt } from './write.js';

export const webVtt: ExchangeFormat = { title: 'WebVTT', write: writeWebVtt, read: readWebVtt };
