import { thumbnailOf } from '../clip/thumbnail.js';
import type { EveningResult, SeenPhoto } from '../jobs/evening.js';
import type { OpenPorts } from '../jobs/ports.js';
import { burstsOf } from '../outing/evening/bursts.js';
import type { Seen } from '../outing/evening/photo.js';
import type { Picture, PictureGroup } from './picture-data.js';

/** Pictures of a kind in a report. */
const MOST_OF_A_KIND = 12;
/** Pixels that they are wide and high at most. */
const SIDE = 440;
/** Seconds: who was in view so shortly before or after may be seen at the edge of another photo. */
const NEAR = 30;

/**
 * Pictures of one kind for the report: one of each burst, spread over the evening. Photos of people, photos that nobody has
 * marked and whatever was taken shortly before or after one of a person are never shown.
 */
export async function picturesOf(
  { all }: Pick<EveningResult, 'all'>,
  kind: Exclude<Seen, 'person'>,
  { cache, signal }: Pick<OpenPorts, 'cache' | 'signal'>,
): Promise<PictureGroup> {
  const bursts = burstsOf(
    all.map(({ time }) => time),
    null,
  );
  const people = all.filter(({ seen }) => seen !== 'animal' && seen !== 'nothing');
  const fit = all.filter((photo, i) => photo.seen === kind && bursts[i] !== bursts[i - 1]);
  const alone = fit.filter((photo) => !people.some((other) => near(photo, other)));
  const chosen = spread(alone, MOST_OF_A_KIND);
  const pictures: Picture[] = [];
  for (const photo of chosen) {
    signal?.throwIfAborted();
    const drawn = await thumbnailOf(photo, SIDE, cache);
    if (!drawn) continue;
    pictures.push({
      address: `data:image/jpeg;base64,${drawn.jpeg.toString('base64')}`,
      width: drawn.width,
      height: drawn.height,
      caption: captionOf(photo),
      hatched: false,
      blurred: false,
    });
  }
  return { pictures, more: alone.length - pictures.length, people: fit.length - alone.length };
}

function near(photo: SeenPhoto, other: SeenPhoto): boolean {
  if (photo.time === null || other.time === null) return other.seen === 'person' && photo.time === other.time;
  return Math.abs(photo.time - other.time) <= NEAR;
}

function captionOf({ name, time }: SeenPhoto): string {
  return time === null ? name : `${new Date(time * 1000).toISOString().slice(11, 19)}, ${name}`;
}

/** So many of a list at even distances. */
function spread<T>(list: readonly T[], most: number): T[] {
  if (list.length <= most) return [...list];
  return Array.from({ length: most }, (_, i) => list[Math.floor(((i + 0.5) * list.length) / most)]!);
}
