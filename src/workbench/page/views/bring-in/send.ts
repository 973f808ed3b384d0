import type { BroughtIn, ClipWanted } from '../../../routes/bring-in.js';
import { ask, askLong, type Told } from '../../link/api.js';

/** Bytes sent at once; the server takes at most twice as many. */
const PIECE = 4 * 2 ** 20;
/** Files on their way at once: of small stills most of the time goes by on the way. */
const AT_ONCE = 4;

/** A file, and what it is to be called. */
export interface Sent {
  file: File;
  name: string;
}

/**
 * Sends files to the server, piece by piece, and has a clip made of them. Where it fails or is stopped, the server keeps
 * nothing of it.
 * @param onSent told of bytes sent, of all
 * @throws Refused; the signal's reason when aborted
 */
export function bringIn(
  files: readonly File[],
  wanted: ClipWanted,
  signal: AbortSignal,
  onSent: (bytes: number) => void,
  told: Told,
): Promise<BroughtIn> {
  const sent = files.map((file) => ({ file, name: file.name }));
  return bringInAs<BroughtIn>('clip', sent, wanted, signal, onSent, told);
}

/**
 * As `bringIn`, for whatever the server makes of them.
 * @param what it makes
 * @param wanted of it
 */
export async function bringInAs<T>(
  what: 'clip' | 'evening' | 'fit',
  files: readonly Sent[],
  wanted: object,
  signal: AbortSignal,
  onSent: (bytes: number) => void,
  told: Told,
): Promise<T> {
  const { id } = await ask<{ id: string }>('api/bring-in', { method: 'POST', signal });
  const address = `api/bring-in/${id}`;
  try {
    let sent = 0;
    const left = files.values();
    const failed = new AbortController();
    const lane = async () => {
      for (const file of left) {
        await sendFile(address, file, AbortSignal.any([signal, failed.signal]), (bytes) => {
          sent += bytes;
          onSent(sent);
        });
      }
    };
    const lanes = Array.from({ length: AT_ONCE }, lane);
    // Where one fails the others stop too, before what was sent is thrown away.
    await Promise.all(lanes).catch(async (error) => {
      failed.abort();
      await Promise.allSettled(lanes);
      throw error;
    });
    return await askLong<T>(`${address}/${what}`, { body: wanted, signal, ...told });
  } catch (error) {
    await ask(address, { method: 'DELETE' }).catch(() => undefined);
    throw error;
  }
}

async function sendFile(
  address: string,
  { file, name }: Sent,
  signal: AbortSignal,
  onSent: (bytes: number) => void,
): Promise<void> {
  let at = 0;
  do {
    const piece = file.slice(at, at + PIECE);
    await ask(`${address}/files/${encodeURIComponent(name)}?at=${at}`, {
      method: 'PUT',
      body: piece,
      signal,
    });
    at += piece.size;
    onSent(piece.size);
  } while (at < file.size);
}
