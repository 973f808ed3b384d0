import { Problem } from '../../base/problem.js';
import { zoneOf } from '../../base/time.js';
import { type Burst, burstsIn } from './bursts.js';
import type { Stamp } from './stamps.js';
import { offsetsOf, quantumOf, type Told } from './told.js';

/** What is known of the clip that times are placed on. */
export interface ClipTimes {
  /** RFC 3339 with its zone; left out: nobody says. */
  start?: string | undefined;
  seconds: number;
}

/** Seconds: zones differ by no less. */
const QUARTER = 900;
const HOUR = 3600;
/** Zones that a clock may be set to instead of the right one. */
const FARTHEST = 26 * HOUR;

/**
 * Times as they were told, placed on a clip as far as anything says where.
 * @param file that they came from, for messages
 * @param burst what the camera's description says of its bursts
 * @param each photos a trigger, as the owner says; left out: as the photos show or `burst` has it
 * @throws Problem 'bad-times' where seconds and dates, or dates of known and unknown zones, stand side by side
 */
export function placed(
  stamps: readonly Stamp[],
  clip: ClipTimes,
  file: string,
  burst: Burst | null,
  each?: number,
): Told {
  const assumed: string[] = [];
  const dated = datedBy(stamps, clip, assumed);
  const kinds = new Set(dated.map(({ from }) => from));
  if (kinds.size > 1) {
    throw new Problem(
      'bad-times',
      `${file}: expected either seconds from the start of the clip or dates and times, found both; write all of them alike`,
    );
  }
  const { seconds, isPlaced } = kinds.has('clip')
    ? { seconds: dated.map((stamp) => stamp.seconds), isPlaced: true }
    : byStart(dated, clip, file, assumed);
  const sorted = seconds.sort((a, b) => a - b);
  const quantum = quantumOf(sorted);
  const { times, burst: found } = burstsIn(sorted, quantum, burst, each);
  const first = isPlaced ? 0 : (times[0] ?? 0);
  return {
    times: times.map((time) => time - first),
    isPlaced,
    quantum,
    given: stamps.length,
    burst: found,
    assumed,
  };
}

const DAY = 24 * HOUR;

/**
 * Hours, minutes and seconds as times since the clip's start, or as times of day by the clock of that start, of the day that brings
 * them onto the clip or after it: whichever brings more of them onto the clip.
 */
function datedBy(
  stamps: readonly Stamp[],
  { start, seconds: length }: ClipTimes,
  assumed: string[],
): Exclude<Stamp, { from: 'day' }>[] {
  const { lowest, highest } = offsetsOf({ times: [], isPlaced: true }, length);
  const begin = start === undefined ? 0 : Date.parse(start) / 1000 + 60 * zoneOf(start);
  const onThatDay = (seconds: number) => {
    const today = Math.floor(begin / DAY) * DAY + seconds;
    return today + DAY * Math.ceil((begin + lowest - today) / DAY);
  };
  const within = (time: number) => time >= lowest && time <= length + highest;
  const ofDay = stamps.filter(({ from }) => from === 'day').map(({ seconds }) => seconds);
  const isOfDay =
    start !== undefined &&
    ofDay.length > 0 &&
    ofDay.filter((seconds) => within(onThatDay(seconds) - begin)).length > ofDay.filter(within).length;
  if (isOfDay) {
    assumed.push(
      `fired times without a date are times of day by the clock of the clip's start (${start}): counted from that start fewer of them would lie on the clip`,
    );
  }
  return stamps.map((stamp) => {
    if (stamp.from !== 'day') return stamp;
    if (!isOfDay) return { from: 'clip', seconds: stamp.seconds };
    return { from: '1970', seconds: onThatDay(stamp.seconds), zone: null };
  });
}

/** Seconds: times that nothing places on the clip are looked through no farther. */
const LONGEST_SEARCHED = 24 * HOUR;
/** Share of the times from which the others are of a clock that was not set. */
const NEARLY_ALL = 0.8;

/**
 * Times that may be of the clip where nothing says which are: all within a day, or those of one day where nearly all are.
 * @throws Problem 'bad-times' where they are of many days
 */
function ofOneOuting(stamps: readonly Stamp[], length: number, file: string, assumed: string[]): number[] {
  const sorted = stamps.map(({ seconds }) => seconds).sort((a, b) => a - b);
  const reach = Math.max(LONGEST_SEARCHED, length);
  let best: number[] = [];
  let last = 0;
  for (const [first, from] of sorted.entries()) {
    while (last < sorted.length && sorted[last]! <= from + reach) last++;
    if (last - first > best.length) best = sorted.slice(first, last);
  }
  if (best.length === sorted.length) return sorted;
  if (best.length < NEARLY_ALL * sorted.length) {
    const days = Math.ceil((sorted.at(-1)! - sorted[0]!) / (24 * HOUR));
    throw new Problem(
      'bad-times',
      `${file}: expected times of the day on which the clip was recorded, because its clip.json has no "start", found them over ${days} days; write "start" into clip.json, or give the times of that day alone`,
    );
  }
  assumed.push(
    `${sorted.length - best.length} of ${sorted.length} fired times are of other days, as of a clock that was not set, and do not count`,
  );
  return best;
}

function byStart(
  stamps: readonly Stamp[],
  { start, seconds: length }: ClipTimes,
  file: string,
  assumed: string[],
): { seconds: number[]; isPlaced: boolean } {
  const zoned = stamps.map((stamp) => stamp.from === '1970' && stamp.zone !== null);
  const without = zoned.filter((hasZone) => !hasZone).length;
  if (start === undefined) {
    if (without > 0 && without < stamps.length) {
      throw new Problem(
        'bad-times',
        `${file}: expected a zone behind all dates and times or behind none, for clip.json has no "start" that would tell it, found ${without} of ${stamps.length} without; write all of them alike`,
      );
    }
    assumed.push(
      'where on the clip the fired times lie is found by how well they fit, for clip.json has no "start"; the offset is counted from the first of them',
    );
    return { seconds: ofOneOuting(stamps, length, file, assumed), isPlaced: false };
  }
  const begin = Date.parse(start) / 1000;
  const zone = zoneOf(start);
  if (without > 0) {
    assumed.push(`fired times without a zone are by the clock of the clip's start (${start})`);
  }
  const seconds = stamps.map((stamp, i) => stamp.seconds - begin - (zoned[i] ? 0 : 60 * zone));
  const shiftedBy = (shift: number) => seconds.map((time, i) => (zoned[i] ? time : time - shift));
  const { lowest, highest } = offsetsOf({ times: [], isPlaced: true }, length);
  const within = (shift: number) =>
    shiftedBy(shift).filter((time) => time >= lowest && time <= length + highest).length;
  if (within(0) > 0 || without === 0) return { seconds, isPlaced: true };
  // A clock in another zone is off by quarters of an hour: the nearest that brings times onto the clip.
  let best = 0;
  for (let quarters = 1; quarters * QUARTER <= FARTHEST; quarters++) {
    for (const shift of [quarters * QUARTER, -quarters * QUARTER])
      if (within(shift) > within(best)) best = shift;
  }
  if (best === 0) return { seconds, isPlaced: true };
  const hours = Math.abs(best) / HOUR;
  assumed.push(
    `the camera's clock is ${hours} h ${best > 0 ? 'ahead of' : 'behind'} that of the clip's start, as if set to another zone: by the start's own none of the times would lie on the clip`,
  );
  return { seconds: shiftedBy(best), isPlaced: true };
}
