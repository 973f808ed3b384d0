import { computed } from '@preact/signals';
import { visitsSaid } from '../../../score/says-nothing.js';
import type { ClipListed } from '../../protocol.js';
import { labelsHere, session } from './labels.js';
import { workspace } from './workspace.js';

/** The clips of the folder, with the visits that are marked in them now. */
export const clipsNow = computed<ClipListed[]>(() => {
  // What was opened is known anew whenever another clip is.
  void session.value;
  return (workspace.value?.clips ?? []).map((clip) => {
    const here = labelsHere(clip.id);
    return here ? { ...clip, visits: visitsSaid(here) } : clip;
  });
});
