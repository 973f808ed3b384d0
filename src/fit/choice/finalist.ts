import type { Closed } from '../search/closed.js';
import type { Pinned } from './pinned.js';

/** A description among which the one is chosen. */
export interface Finalist extends Pinned {
  /** What it really fires, where that takes a replay of its own. */
  closed: Closed | null;
  /** Of those that were replayed, all that come as near. */
  alike: Closed[];
  /** Whether these reach to an end of what was replayed: what lies beyond may come as near. */
  isCut: boolean;
}
