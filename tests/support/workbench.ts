import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { onTestFinished } from 'vitest';
import { Cache } from '../../src/store/cache.js';
import { newSecret } from '../../src/workbench/guard.js';
import { type Patience, serveWorkbench } from '../../src/workbench/serve.js';
import { Workspace } from '../../src/workbench/workspace.js';
import { gone } from './gone.js';

const PAGE = fileURLToPath(new URL('../../dist/workbench/page/', import.meta.url));

/** A folder that goes when the test is done. */
export function scratch(): string {
  const folder = mkdtempSync(join(tmpdir(), 'perchmark-test-'));
  onTestFinished(() => gone(folder));
  return folder;
}

/**
 * Serves a folder until the test is done; what it keeps goes with it.
 * @param folder left out: the demo's scenes
 * @returns the page's address, with the secret in it
 */
export async function served(
  folder?: string,
  cache = new Cache(scratch()),
  patience?: Patience,
): Promise<string> {
  const nothing = () => undefined;
  const ports = { cache, onPhase: nothing, onProgress: nothing, onWarning: nothing };
  const workspace = await Workspace.open(folder, ports);
  const { address, close } = await serveWorkbench(
    { workspace, ports },
    { port: 0, secret: newSecret() },
    PAGE,
    patience,
  );
  onTestFinished(close);
  return address;
}
