/** Something that changed for a while: what a camera with sensitive dials would look at. */
export interface Moment {
  /** First and last analysed frame. */
  from: number;
  to: number;
  /** Seconds from the clip's start, of these frames. */
  start: number;
  end: number;
  /** The frame in which most dial positions would have seen it. */
  peak: number;
  /** Seconds, of that frame. */
  peakTime: number;
  /** Pixels that counted in the peak frame, at each level of the evidence, lowest first. */
  sizes: number[];
  /** The brightest level at which enough changed for the smallest area. */
  level: number;
}

export interface MomentEvidence {
  /** Grey levels, rising. */
  levels: readonly number[];
  /** Seconds, of the analysed frames. */
  times: Float64Array;
  /** Pixels that count in each frame, by level. */
  area: ReadonlyMap<number, Uint32Array>;
}

export interface Found {
  moments: Moment[];
  /** Of the dial's levels and areas, so many see each of them. */
  seenBy: number;
}

/** Seconds of rest that part two moments, and the longest that one lasts. Assumptions: as much as a few pictures tell. */
const REST = 2;
const LONGEST = 10;
/**
 * A setting that is active in more than this share of the frames is not plausible: it fires as often as it can. Set by
 * the demo scenes, where it leaves nearly all visits among the moments.
 */
const MOST_ACTIVE = 2 / 3;
/** More than this nobody looks through, nor are they weighed in a second. */
export const MOST_MOMENTS = 600;

/**
 * The moments that the most sensitive plausible setting would be active in. Each frame is given the number of
 * combinations of a level and an area that it is active for; the fewest that must see it are taken for which no more than
 * two thirds of the frames are active. Where even all of them are active in more, no setting tells moments apart, and there
 * are none.
 * @param areas what the dial for the smallest area offers, pixels
 */
export function findMoments(evidence: MomentEvidence, areas: readonly number[]): Found {
  const seen = timesSeen(evidence, areas);
  const combinations = evidence.levels.length * areas.length;
  for (let seenBy = 1; seenBy <= combinations; seenBy++) {
    const active = seen.reduce((n, by) => n + Number(by >= seenBy), 0);
    if (active > MOST_ACTIVE * seen.length) continue;
    const all = stretches(evidence, seen, seenBy, Math.min(...areas));
    return { moments: clearest(all, seen), seenBy };
  }
  return { moments: [], seenBy: combinations };
}

/** No more than can be handled: those that most dial positions see, then the largest; in order. */
function clearest(all: Moment[], seen: Uint32Array): Moment[] {
  if (all.length <= MOST_MOMENTS) return all;
  const size = ({ sizes }: Moment) => sizes[0] ?? 0;
  return all
    .toSorted((a, b) => seen[b.peak]! - seen[a.peak]! || size(b) - size(a))
    .slice(0, MOST_MOMENTS)
    .sort((a, b) => a.from - b.from);
}

function timesSeen({ levels, times, area }: MomentEvidence, areas: readonly number[]): Uint32Array {
  const seen = new Uint32Array(times.length);
  for (const level of levels) {
    const column = area.get(level)!;
    for (const least of areas) {
      for (let k = 0; k < seen.length; k++) seen[k]! += Number(column[k]! >= least);
    }
  }
  return seen;
}

function stretches(
  { levels, times, area }: MomentEvidence,
  seen: Uint32Array,
  seenBy: number,
  least: number,
): Moment[] {
  const found: { from: number; to: number; peak: number }[] = [];
  for (let k = 0; k < seen.length; k++) {
    if (seen[k]! < seenBy) continue;
    const last = found.at(-1);
    const goesOn = last && times[k]! - times[last.to]! <= REST && times[k]! - times[last.from]! <= LONGEST;
    if (!goesOn) {
      found.push({ from: k, to: k, peak: k });
      continue;
    }
    last.to = k;
    if (seen[k]! > seen[last.peak]!) last.peak = k;
  }
  return found.map(({ from, to, peak }) => {
    const sizes = levels.map((level) => area.get(level)![peak]!);
    const brightest = sizes.findLastIndex((size) => size >= least);
    return {
      from,
      to,
      peak,
      peakTime: times[peak]!,
      start: times[from]!,
      end: times[to]!,
      sizes,
      level: levels[Math.max(0, brightest)]!,
    };
  });
}
