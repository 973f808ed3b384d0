import type { ByItself } from '../search/stopping.js';
import type { Pinned } from './pinned.js';

/** A description among which the one is chosen. */
export interface Finalist extends Pinned {
  /** What it fires by itself, where its reference depends on that. */
  closed: ByItself | null;
  /** Of what was followed so, all that comes as near. */
  alike: readonly ByItself[];
  /** Whether these reach to an end of what was followed: what lies beyond may come as near. */
  isCut: boolean;
}
