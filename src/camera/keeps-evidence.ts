import type { Camera } from './description.js';

/** Whether the reference never depends on the triggers, so that evidence kept once answers for every setting. */
export function keepsEvidence({ reference }: Pick<Camera, 'reference'>): boolean {
  return reference.whileBusy === 'continues';
}
