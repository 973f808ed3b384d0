import { renameSync } from 'node:fs';
import { rm } from 'node:fs/promises';
import { removeNow } from '../../src/files/partial.js';

/** Removes a folder that the last request of a page may still be writing to: what comes meanwhile goes too. */
export function gone(folder: string): Promise<void> {
  return rm(folder, { recursive: true, force: true, maxRetries: 10, retryDelay: 20 });
}

/** Takes away all of a folder in one step, where it is there: nothing is written into it while it goes. */
export function takenAway(folder: string): void {
  const away = `${folder}-away`;
  try {
    renameSync(folder, away);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
    return;
  }
  removeNow(away);
}
