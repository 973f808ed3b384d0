import type { OpenPorts } from '../jobs/ports.js';
import type { Workspace } from './workspace.js';

/** What every route works on. */
export interface Bench {
  workspace: Workspace;
  ports: OpenPorts;
}
