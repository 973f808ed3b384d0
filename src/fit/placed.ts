import { Problem } from '../base/problem.js';
import { type Burst, burstsIn } from './bursts.js';
import { type Stamp, zoneOf } from './stamps.js';
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
 * @param burst what the owner says of the camera's bursts
 * @throws Problem 'bad-times' where seconds and dates stand side by side
 */
export function placed(stamps: readonly Stamp[], clip: ClipTimes, file: string, burst: Burst | null): Told {
  const kinds = new Set(stamps.map(({ from }) => from));
  if (kinds.size > 1) {
    throw new Problem(
      'bad-times',
      `${file}: expected either seconds from the start of the clip or dates and times, found both; write all of them alike`,
    );
  }
  const assumed: string[] = [];
  const { seconds, isPlaced } = kinds.has('clip')
    ? { seconds: stamps.map((stamp) => stamp.seconds), isPlaced: true }
    : byStart(stamps, clip, assumed);
  const sorted = [...new Set(seconds)].sort((a, b) => a - b);
  const quantum = quantumOf(sorted);
  const { times, burst: found } = burstsIn(sorted, quantum, burst);
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

function byStart(
  stamps: readonly Stamp[],
  { start, seconds: length }: ClipTimes,
  assumed: string[],
): { seconds: number[]; isPlaced: boolean } {
  if (start === undefined) {
    assumed.push(
      'where on the clip the fired times lie is found by how well they fit, for clip.json has no "start"; the offset is counted from the first of them',
    );
    return { seconds: stamps.map(({ seconds }) => seconds), isPlaced: false };
  }
  const begin = Date.parse(start) / 1000;
  const zone = zoneOf(start);
  const hasZone = (stamp: Stamp) => stamp.from === '1970' && stamp.zone !== null;
  const without = stamps.filter((stamp) => !hasZone(stamp)).length;
  if (without > 0) {
    assumed.push(`fired times without a zone are by the clock of the clip's start (${start})`);
  }
  const seconds = stamps.map((stamp) => stamp.seconds - begin - (hasZone(stamp) ? 0 : 60 * zone));
  const { lowest, highest } = offsetsOf({ times: [], isPlaced: true }, length);
  const within = (shift: number) =>
    seconds.filter((time) => time - shift >= lowest && time - shift <= length + highest).length;
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
  return { seconds: seconds.map((time) => time - best), isPlaced: true };
}
