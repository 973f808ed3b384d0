import { constants, type FileHandle, open, stat, writeFile } from 'node:fs/promises';
import { setTimeout as pause } from 'node:timers/promises';
import { Problem } from '../base/problem.js';
import { codeOf, unwritable } from './faults.js';

/**
 * Writes to a pipe or a device, as a stream: nothing can be put beside it and renamed.
 * @param path as the user named it, for messages
 * @throws Problem 'file-unwritable', also where it is a named pipe that nobody reads
 */
export async function writeToStream(
  path: string,
  file: string,
  bytes: Uint8Array | string | AsyncIterable<string>,
): Promise<void> {
  try {
    const reader = await readerOf(path, file);
    try {
      const handle = await open(file, 'w');
      try {
        await writeFile(handle, bytes);
      } finally {
        await handle.close();
      }
    } finally {
      await reader?.close();
    }
  } catch (error) {
    throw unwritable(path, error);
  }
}

/** So long somebody is waited for who reads a pipe. */
const READER_MS = 3000;
const LOOK_AGAIN_MS = 50;

/**
 * Sees that a named pipe has a reader, because opening one that has none never ends.
 * @returns the pipe, opened, so that its reader stays until what is written there has been; null for anything else
 * @throws Problem 'file-unwritable' where nobody reads it
 */
async function readerOf(path: string, file: string): Promise<FileHandle | null> {
  if (!(await stat(file)).isFIFO()) return null;
  const until = performance.now() + READER_MS;
  for (;;) {
    try {
      return await open(file, constants.O_WRONLY | constants.O_NONBLOCK);
    } catch (error) {
      if (codeOf(error) !== 'ENXIO') throw error;
      if (performance.now() > until) {
        throw new Problem(
          'file-unwritable',
          `${path}: this is a named pipe that no program reads; start the one that reads it first, or name a file`,
        );
      }
      await pause(LOOK_AGAIN_MS);
    }
  }
}
