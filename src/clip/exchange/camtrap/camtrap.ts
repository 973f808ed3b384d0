import type { ExchangeFormat } from '../format.js';
import { readCamtrap } from './read.js';
import { writeCamtrap } from './write.js';

export const camtrapDp: ExchangeFormat = {
  title: 'Camtrap DP 1.0.2',
  write: writeCamtrap,
  read: readCamtrap,
};
