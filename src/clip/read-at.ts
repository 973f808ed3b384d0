import type { FileHandle } from 'node:fs/promises';

/** Bytes of a file from a place on, as many as there are, at most so many. */
export async function readAt(handle: FileHandle, at: number, length: number): Promise<Buffer> {
  const bytes = Buffer.alloc(length);
  const { bytesRead } = await handle.read(bytes, 0, length, at);
  return bytes.subarray(0, bytesRead);
}
