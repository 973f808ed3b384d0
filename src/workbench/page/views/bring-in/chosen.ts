/** What was chosen or dropped, and what becomes of it. */
export type Chosen =
  | { kind: 'stills'; name: string; files: File[]; bytes: number }
  | { kind: 'video'; name: string; files: [File]; bytes: number }
  | { kind: 'nothing'; why: string };

const STILL = /\.(jpe?g|png|bmp|tiff?)$/i;
const VIDEO = /\.(mp4|m4v|mov|mkv|webm|avi|mpe?g|ts|mts|m2ts|h264|mjpe?g|3gp)$/i;

/** One for all: made anew for each pair of names it takes seconds over a day's stills. */
const byNumber = new Intl.Collator('en', { numeric: true });

/**
 * Tells stills from a video among files; those that are neither are left out.
 * @param files a folder's, or a single one
 * @param folder the folder's name; '' where single files were chosen
 */
export function chosenFrom(files: readonly File[], folder: string): Chosen {
  const seen = files.filter(({ name }) => !name.startsWith('.'));
  const stills = seen.filter(({ name }) => STILL.test(name));
  const videos = seen.filter(({ name }) => VIDEO.test(name));
  if (stills.length > 0 && videos.length > 0) {
    return {
      kind: 'nothing',
      why: 'There are pictures and videos together. Choose one video, or a folder that holds pictures only.',
    };
  }
  if (videos.length > 1) {
    return {
      kind: 'nothing',
      why: `There are ${videos.length} videos. Choose one: each becomes a clip of its own.`,
    };
  }
  const [video] = videos;
  if (video)
    return {
      kind: 'video',
      name: plainName(video.name.replace(/\.[^.]*$/, '')),
      files: [video],
      bytes: video.size,
    };
  if (stills.length > 0) {
    const sorted = [...stills].sort((a, b) => byNumber.compare(a.name, b.name));
    const bytes = sorted.reduce((sum, { size }) => sum + size, 0);
    return { kind: 'stills', name: plainName(folder === '' ? 'my clip' : folder), files: sorted, bytes };
  }
  return {
    kind: 'nothing',
    why:
      seen.length === 0
        ? 'There is nothing in it.'
        : `Of ${seen.length} files none is a picture (JPEG, PNG, BMP, TIFF) or a video.`,
  };
}

/** A name as a folder may have it. */
export function plainName(name: string): string {
  const plain = [...name.replace(/[/\\]/g, '-')].filter((character) => character >= ' ').join('');
  return plain.trim().replace(/^\.+/, '').slice(0, 60) || 'my clip';
}

/** A name that no clip has yet: 'hedge', then 'hedge 2'. */
export function freeName(name: string, taken: readonly string[]): string {
  if (!taken.includes(name)) return name;
  for (let i = 2; ; i++) if (!taken.includes(`${name} ${i}`)) return `${name} ${i}`;
}

/** What is wrong with a name for a clip, one line; null where nothing is. The server holds it against the same. */
export function nameProblem(name: string, taken: readonly string[]): string | null {
  const plain = name.trim();
  if (plain === '') return 'Give it a name.';
  if (/[/\\]/.test(plain) || plain.startsWith('.')) {
    return 'Expected a name as a folder may have it: without slashes, and no dot in front.';
  }
  return taken.includes(plain) ? `There is a clip named ${plain} already: give this one another name.` : null;
}

/** Date and time of day, or seconds or milliseconds since 1970, as names of pictures tell them. */
const TIMED_NAME = /\d{8}\D{0,3}\d{6}|(?<!\d)\d{10}(?!\d)|(?<!\d)\d{13}(?!\d)/;
/** As EXIF writes a time. */
const TIMED_INSIDE = /\d{4}:\d{2}:\d{2} \d{2}:\d{2}:\d{2}/;
/** Bytes at the start of a picture in which EXIF stands. */
const HEAD = 128 * 1024;

/** Date and time of day, to the second. */
const STAMP = /(\d{4}):?([01]\d):?([0-3]\d)\D{0,3}([0-2]\d):?([0-5]\d):?([0-5]\d)/;

/** When a recording began by the name of its first file, or what stands inside it, of no zone: 2026-06-12T15:00:00; '' where neither tells. */
export async function beginningOf([first]: readonly File[]): Promise<string> {
  if (!first) return '';
  return beganIn(first.name) || beganIn(insideOf(await first.slice(0, HEAD).arrayBuffer()));
}

/** As `beginningOf`, of a text. */
export function beganIn(text: string): string {
  const [, year, month, day, hour, minute, second] = STAMP.exec(text) ?? [];
  const began = `${year}-${month}-${day}T${hour}:${minute}:${second}`;
  return new Date(`${began}Z`).toJSON() === `${began}.000Z` ? began : '';
}

/** What a picture says of its time, as EXIF writes it; '' where it says nothing. */
function insideOf(bytes: ArrayBuffer): string {
  return TIMED_INSIDE.exec(new TextDecoder('latin1').decode(bytes))?.[0] ?? '';
}

/** Whether pictures seem to tell when they were taken, by the name or the inside of the first; bringing them in makes sure. */
export async function tellTimes([first]: readonly File[]): Promise<boolean> {
  if (!first || TIMED_NAME.test(first.name)) return true;
  return insideOf(await first.slice(0, HEAD).arrayBuffer()) !== '';
}
