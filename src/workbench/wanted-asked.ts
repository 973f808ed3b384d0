import { z } from 'zod';
import { MOST_ALLOWED, mayBeAllowed, RAREST_ALLOWED } from '../tune/goal.js';

/** How many photos of nothing one more visit is worth. */
export const worthAsked = z.number().min(0.1).max(MOST_ALLOWED).describe('photos of nothing');

/** Hours of a day that a camera is out. */
export const hoursAsked = z.number().min(0.01).max(24).describe('hours a day');

/** Photos of nothing a day that are put up with. */
export const photosAsked = z
  .number()
  .refine(mayBeAllowed, `0, or a number from ${RAREST_ALLOWED} to ${MOST_ALLOWED} photos of nothing a day`);
