import { clock } from '../base/figures.js';
import { Problem } from '../base/problem.js';
import { refuseOffFrame } from '../camera/on-frame.js';
import type { Labels, Stretch, Visit } from './labels.js';

/** How far a visit may reach past the clip's end and is cut there, in seconds. */
const slack = 1;
const tolerance = 1e-9;

/**
 * Labels against the clip they belong to: visits are cut at its end when they pass it by up to a second; other
 * stretches are cut wherever they pass it.
 * @param seconds the clip's length
 * @param file for messages
 * @throws Problem 'bad-field' for a visit outside the clip, too many at once, or a box or a corner off the frame
 */
export function checkLabels(
  labels: Labels,
  seconds: number,
  file: string,
): { labels: Labels; warnings: string[] } {
  const length = `the clip's length, ${told(Number(seconds.toFixed(3)))}`;
  const warnings: string[] = [];
  const visits = labels.visits.map((visit, i) => {
    if (visit.start >= seconds - tolerance) {
      throw new Problem(
        'bad-field',
        `${file}: visits[${i}].start: expected a time before ${length}, found ${told(visit.start)}; mend it or take the visit out`,
      );
    }
    if (visit.end > seconds + slack + tolerance) {
      throw new Problem(
        'bad-field',
        `${file}: visits[${i}].end: expected a time within ${length}, found ${told(visit.end)}; mend it`,
      );
    }
    refuseBoxOffFrame(visit, `${file}: visits[${i}].box`);
    return { ...visit, end: Math.min(visit.end, seconds) };
  });
  refuseCrowd(visits, file);
  const cut = <S extends Stretch>(stretches: S[], field: string): S[] => {
    const late = stretches.findIndex((s) => s.end > seconds + slack + tolerance);
    if (late >= 0) {
      warnings.push(
        `${file}: ${field}[${late}].end: ${told(stretches[late]!.end)} is past ${length}; what lies past it was left out`,
      );
    }
    return stretches.filter((s) => s.start <= seconds).map((s) => ({ ...s, end: Math.min(s.end, seconds) }));
  };
  const checked: Labels = { ...labels, visits };
  if (labels.reviewed) checked.reviewed = cut(labels.reviewed, 'reviewed');
  if (labels.ignored) checked.ignored = cut(labels.ignored, 'ignored');
  if (labels.causes) checked.causes = cut(labels.causes, 'causes');
  for (const field of ['mask', 'foliage'] as const) refuseOffFrame(labels[field], `${file}: ${field}`);
  return { labels: checked, warnings };
}

/** As all output prints times, and exactly. */
function told(time: number): string {
  return `${clock(time, 1)} (${time} s)`;
}

/** The most of x + width that passes for the frame's edge, for fractions that were rounded. */
const EDGE = 1.001;

function refuseBoxOffFrame({ box }: Visit, path: string): void {
  if (!box) return;
  const [x, y, width, height] = box;
  const off = x + width > EDGE ? (['x', 'width', x, width] as const) : null;
  const below = y + height > EDGE ? (['y', 'height', y, height] as const) : null;
  const [from, extent, start, size] = off ?? below ?? [];
  if (start === undefined || size === undefined) return;
  throw new Problem(
    'bad-field',
    `${path}: expected a box within the frame, [x, y, width, height] as fractions of it, found ${from} ${start} and ${extent} ${size}, which reach ${Number((start + size).toPrecision(6))}; mend it (from two corners, take the first off the second)`,
  );
}

/** More labelled visits at one moment than anyone can tell apart; to list them for every frame would fill the memory. */
const MOST_AT_ONCE = 1000;

function refuseCrowd(visits: readonly Visit[], file: string): void {
  const starts = visits.map(({ start }) => start).sort((a, b) => a - b);
  const ends = visits.map(({ end }) => end).sort((a, b) => a - b);
  let gone = 0;
  for (const [come, start] of starts.entries()) {
    while (ends[gone]! < start) gone++;
    if (come + 1 - gone <= MOST_AT_ONCE) continue;
    throw new Problem(
      'bad-field',
      `${file}: visits: expected at most ${MOST_AT_ONCE} at one moment, found more at ${told(start)}; give a flock as one visit with "count"`,
    );
  }
}
