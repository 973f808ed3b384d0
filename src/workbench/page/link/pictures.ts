import type { ClipOpened } from '../../protocol.js';
import { addressOf } from './addresses.js';

/** Widths that are asked for, so that a window made a little larger finds what is kept already. */
const WIDTHS = [160, 320, 480, 640, 960, 1280, 1920, 2560, 3840];

/**
 * Where the server has a picture of a frame; the browser keeps it.
 * @param frame stored frames from 0
 * @param shown how wide it is shown, device pixels; left out: as wide as usual
 * @param box x, y, width, height as fractions of the frame: that part alone; left out: all of it
 */
export function pictureAddress(
  { id, version }: Pick<ClipOpened, 'id' | 'version'>,
  frame: number,
  { shown, box }: { shown?: number; box?: readonly [number, number, number, number] } = {},
): string {
  const query = new URLSearchParams({ v: version });
  if (shown !== undefined)
    query.set('width', String(WIDTHS.find((width) => width >= shown) ?? WIDTHS.at(-1)));
  if (box) query.set('box', box.map((part) => Number(part.toFixed(5))).join());
  return `${addressOf(id)}/frames/${frame}?${query}`;
}
