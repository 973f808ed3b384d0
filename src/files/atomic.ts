import { chmod, chown, rename, rm, stat, writeFile } from 'node:fs/promises';
import { unwritable } from './faults.js';
import { begin, besides, done } from './partial.js';

/**
 * Writes a file so that readers see the old content or the whole new one, never a part. An older file's permissions stay.
 * @param file no symbolic link: the link itself would be replaced
 * @param partial where it is until it is whole, on the same file system
 * @param mode its permissions, from its first byte on; left out: those of an older file, else the system's usual ones
 * @param place asked, once all is written, where it is to go after all
 * @throws Problem 'file-unwritable', and whatever making the bytes throws
 */
export async function writeAtomic(
  file: string,
  bytes: Uint8Array | string | AsyncIterable<Uint8Array | string>,
  partial: string = besides(file),
  mode?: number,
  place: () => Promise<string> = async () => file,
): Promise<void> {
  begin(partial);
  try {
    await writeFile(partial, bytes, { flag: 'wx', ...(mode !== undefined && { mode }) });
    const target = await place();
    if (mode === undefined) await putInPlace(partial, target);
    else await rename(partial, target);
  } catch (error) {
    await rm(partial, { force: true }).catch(() => undefined);
    throw unwritable(file, error);
  } finally {
    done(partial);
  }
}

/** Renames what is whole to the file's name, with the permissions of an older one. @throws the system's error */
export async function putInPlace(partial: string, file: string): Promise<void> {
  const old = await stat(file).catch(() => null);
  if (old?.isFile()) {
    // Only the superuser may give files away: where it may not, the file is the writer's.
    await chown(partial, old.uid, old.gid).catch(() => undefined);
    await chmod(partial, old.mode & 0o7777);
  }
  await rename(partial, file);
}
