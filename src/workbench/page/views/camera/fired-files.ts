import type { Placed } from '../bring-in/dropped.js';
import type { Sent } from '../bring-in/send.js';
import { photosAmong } from '../evening/photos.js';

/**
 * Of a JPEG only so many bytes are sent: within them it says when it was taken, and that it is one. The server looks no
 * farther (clip/exif.ts); a PNG may say it at its end.
 */
const HEAD = 256 * 1024;
/** A list of times is small; bytes. */
const MOST_LIST = 4 * 2 ** 20;
const PNG = /\.png$/i;
const LIST = /\.(csv|txt|json)$/i;

/** What tells when a camera fired: photos, of which the beginning is enough, or one list of times. */
export type Fired =
  | { kind: 'photos' | 'list'; files: Sent[]; bytes: number }
  | { kind: 'nothing'; why: string };

/** Tells what was chosen or dropped. */
export function firedFrom(files: readonly Placed[]): Fired {
  const photos = photosAmong(files);
  const [list, other] = files.filter(({ path }) => LIST.test(path) && !path.startsWith('.'));
  if (photos.length > 0) {
    const heads = photos.map(({ file, name }) => ({
      file: PNG.test(name) ? file : new File([file.slice(0, HEAD)], name),
      name,
    }));
    return { kind: 'photos', files: heads, bytes: heads.reduce((sum, { file }) => sum + file.size, 0) };
  }
  if (list && !other) {
    if (list.file.size > MOST_LIST) {
      return { kind: 'nothing', why: `${list.file.name}: expected a list of times, of at most 4 MB.` };
    }
    return { kind: 'list', files: [{ file: list.file, name: list.file.name }], bytes: list.file.size };
  }
  return {
    kind: 'nothing',
    why: other
      ? 'There are several lists: choose one.'
      : files.length === 0
        ? 'There is nothing in it.'
        : `Of ${files.length} files none is a photo (JPEG or PNG) or a list of times (CSV or JSON).`,
  };
}
