import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { Problem } from '../base/problem.js';
import { unreadable } from '../files/regular.js';
import type { Decoder, Pixels } from './decode.js';
import { checkFormat, pictureName } from './formats.js';
import { TooLarge } from './size.js';

/** Stills in order; a file is at folder/name. Names only, so that a day's list stays small. */
export interface StillsSource {
  kind: 'stills';
  folder: string;
  names: readonly string[];
  /** Makes the files again, where they are no recording and can be; what they hold is then the same. */
  again?: () => Promise<void>;
  /** Notes that the files are used, where they may be removed to make room. */
  used?: () => Promise<void>;
}

/** Does something with the files; where that fails and they can be made again, makes them and does it once more. */
export async function withStills<T>(source: StillsSource, act: () => Promise<T>): Promise<T> {
  await source.used?.();
  if (!source.again) return act();
  try {
    return await act();
  } catch {
    await source.again();
    return act();
  }
}

/**
 * One still at its full size, or some of its rows, for decoders that can.
 * @throws Problem 'bad-picture', 'file-missing', 'file-unreadable', naming file and index
 */
export async function decodeStill(
  source: StillsSource,
  index: number,
  by: Decoder,
  rows?: { from: number; to: number },
): Promise<Pixels> {
  return withStills(source, async () => {
    const { file, bytes } = await readStill(source, index);
    const decoding = rows && by.rows ? by.rows(bytes, rows.from, rows.to) : by.decode(bytes);
    return decoding.catch((error) => {
      throw broken(file, index, error);
    });
  });
}

/** Width and height of one still, as stored. */
export async function stillSize(
  source: StillsSource,
  index: number,
  by: Decoder,
): Promise<{ width: number; height: number }> {
  const { file, bytes } = await readStill(source, index);
  const size = await by.size(bytes).catch((error) => {
    throw broken(file, index, error);
  });
  if (size.width >= 1 && size.height >= 1) return size;
  throw broken(file, index, new Error(`it is ${size.width}x${size.height} pixels`));
}

async function readStill(source: StillsSource, index: number): Promise<{ file: string; bytes: Buffer }> {
  const file = stillFile(source, index);
  const bytes = await readFile(file).catch(async (error) => {
    throw await unreadable(file, error, 'a still');
  });
  checkFormat(bytes, file, index);
  return { file, bytes };
}

export function stillFile(source: StillsSource, index: number): string {
  return join(source.folder, source.names[index]!);
}

/** What a decoder's own error means to the user. */
export function broken(file: string, index: number, error: unknown): Problem {
  if (error instanceof TooLarge) {
    return new Problem('bad-picture', `${pictureName(file, index)}: ${error.message}`);
  }
  const said = (error instanceof Error ? error.message : String(error)).trim();
  // What a decoder says of itself where another, at work at the same time, has taken the words.
  const why = /^(unknown error)?$/i.test(said) ? '' : ` (${said})`;
  return new Problem(
    'bad-picture',
    `${pictureName(file, index)}: the picture is truncated or damaged${why}; copy it again or take it out of the clip`,
  );
}
