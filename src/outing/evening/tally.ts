import { boutsOf } from '../../score/bouts.js';
import { ratioByBouts } from '../../score/by-bouts.js';
import { type Ratio, wilson } from '../../score/intervals.js';
import { type EveningPhoto, type Seen, timedIn } from './photo.js';

/** How many photos show what, and the share of animals among those of animals and of nothing. */
export interface Tally {
  photos: number;
  animal: number;
  nothing: number;
  person: number;
  unmarked: number;
  /** By photos, and by bouts where all of them have a time; null where none is of an animal or of nothing. */
  precision: Ratio | null;
}

/** Counts photos. Those of people and those that nobody has marked count neither for nor against. */
export function tallyOf(photos: readonly EveningPhoto[]): Tally {
  const count = (seen: Seen | null) => photos.filter((photo) => photo.seen === seen).length;
  const [animal, nothing, person, unmarked] = [
    count('animal'),
    count('nothing'),
    count('person'),
    count(null),
  ];
  return {
    photos: photos.length,
    animal,
    nothing,
    person,
    unmarked,
    precision: precisionOf(photos, animal, nothing),
  };
}

function precisionOf(photos: readonly EveningPhoto[], animal: number, nothing: number): Ratio | null {
  const ratio = wilson(animal, animal + nothing);
  if (!ratio) return null;
  const counted = photos.filter(({ seen }) => seen === 'animal' || seen === 'nothing');
  const timed = timedIn(counted);
  if (timed.length < counted.length) return ratio;
  const bouts = (wanted: Seen) =>
    boutsOf(timed.filter(({ seen }) => seen === wanted).map(({ time }) => time));
  return { ...ratio, bouts: ratioByBouts(ratio, bouts('animal'), bouts('nothing')) };
}
