import { signal } from '@preact/signals';
import type { WorkspaceInfo } from '../../protocol.js';
import { ask } from '../link/api.js';
import { trouble } from './trouble.js';

/** The opened folder; null until it is known. */
export const workspace = signal<WorkspaceInfo | null>(null);

export async function loadWorkspace(): Promise<void> {
  try {
    workspace.value = await ask<WorkspaceInfo>('api/workspace');
  } catch (error) {
    trouble.value = (error as Error).message;
  }
}

/** How many photos the camera takes each time it fires. */
export function photosPerTrigger(): number {
  return workspace.value?.camera.burst.photos ?? 1;
}
