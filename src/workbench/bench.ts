import type { OpenPorts } from '../jobs/ports.js';
import type { Turns } from './turns.js';
import type { Workspace } from './workspace.js';

/** What every route works on. */
export interface Bench {
  workspace: Workspace;
  ports: OpenPorts;
  /** For whatever takes all of a core for long. */
  turns: Turns;
}
