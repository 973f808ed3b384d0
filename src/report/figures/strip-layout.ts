import type { JudgedTrigger } from '../../score/replayed.js';
import type { Stretch } from '../../score/stretches.js';

/** How a clip's time is broken into rows, like lines of text. */
export interface Rows {
  /** Seconds that each row holds. */
  seconds: number;
  /** When each row starts. */
  starts: readonly number[];
  /** Seconds between two marks of the time axis. */
  tick: number;
}

const MINUTE = 60;
/** Seconds that a row may hold. */
const ROW_LENGTHS = [5, 10, 20, 30, 60, 120, 240, 480, 1440].map((minutes) => minutes * MINUTE);
const TICKS = [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14_400, 21_600];
const MOST_ROWS = 12;
/** Room that one clock time takes, in pixels. */
const TICK_ROOM = 58;

/**
 * A short clip in one row; a longer one in rows of `usual` seconds, or of as much more as leaves a dozen rows.
 * @param width of a row in pixels
 */
export function rowsOf(seconds: number, usual: number, width: number): Rows {
  const fits = ROW_LENGTHS.find((length) => length >= usual && seconds / length <= MOST_ROWS);
  const length = seconds <= usual * 1.2 ? seconds : (fits ?? seconds / MOST_ROWS);
  const count = Math.max(1, Math.ceil(seconds / length - 1e-9));
  const tick = TICKS.find((t) => (t / length) * width >= TICK_ROOM) ?? length;
  return { seconds: length, starts: Array.from({ length: count }, (_, row) => row * length), tick };
}

/** The part of a stretch that lies in one row; `x1` and `x2` are seconds into the row. */
export interface Cut<T> {
  of: T;
  row: number;
  x1: number;
  x2: number;
  /** Whether the stretch begins here. */
  first: boolean;
}

/** Stretches cut at the ends of the rows they run through. */
export function cutToRows<T extends Stretch>(stretches: readonly T[], rows: Rows): Cut<T>[] {
  return stretches.flatMap((of) => {
    const from = rowAt(of.start, rows);
    const to = rowAt(of.end, rows);
    return Array.from({ length: to - from + 1 }, (_, i) => {
      const start = rows.starts[from + i]!;
      return {
        of,
        row: from + i,
        x1: Math.max(0, of.start - start),
        x2: Math.min(rows.seconds, of.end - start),
        first: i === 0,
      };
    });
  });
}

/** So many bands are drawn one by one: more than anyone marks by hand in one clip. */
const MOST_BANDS = 5000;

/**
 * Of more bands than can be drawn, those that show: of bands of one kind that begin in the same pixel column of a row only
 * the longest.
 * @param perPixel seconds
 */
export function drawable<T>(bands: Cut<T>[], perPixel: number, kindOf: (of: T) => string): Cut<T>[] {
  if (bands.length <= MOST_BANDS) return bands;
  const longest = new Map<string, Cut<T>>();
  for (const band of bands) {
    const place = `${band.row} ${Math.floor(band.x1 / perPixel)} ${kindOf(band.of)}`;
    const other = longest.get(place);
    if (!other || band.x2 > other.x2) longest.set(place, band);
  }
  return [...longest.values()];
}

/** A point of the area's line: the most that was seen in one column of a row. */
export interface ColumnPoint {
  row: number;
  /** Seconds into the row. */
  x: number;
  pixels: number;
}

/** The greatest value in each of `columns` columns of each row; a column without a frame has no point. */
export function columnMaxima(
  times: ArrayLike<number>,
  pixels: ArrayLike<number>,
  rows: Rows,
  columns: number,
): ColumnPoint[] {
  const points: ColumnPoint[] = [];
  let last = -1;
  for (let k = 0; k < times.length; k++) {
    const time = times[k]!;
    const value = pixels[k]!;
    const row = rowAt(time, rows);
    const into = time - rows.starts[row]!;
    const column = row * columns + Math.min(columns - 1, Math.floor((into / rows.seconds) * columns));
    if (column === last) {
      const point = points[points.length - 1] as ColumnPoint;
      point.pixels = Math.max(point.pixels, value);
    } else points.push({ row, x: into, pixels: value });
    last = column;
  }
  return points;
}

/** Leaves out points that say nothing new: those between two of the same value in a row. */
export function withoutRuns(points: readonly ColumnPoint[]): ColumnPoint[] {
  return points.filter((point, i) => {
    const [before, after] = [points[i - 1], points[i + 1]];
    const same = (other: ColumnPoint | undefined) =>
      other?.row === point.row && other.pixels === point.pixels;
    return !(same(before) && same(after));
  });
}

/** One mark on the strip: a trigger, or several of one verdict that are too close to be told apart. */
export interface TriggerMark {
  row: number;
  x: number;
  verdict: JudgedTrigger['verdict'];
  times: number[];
}

/** @param apart seconds under which triggers of one verdict share a mark */
export function triggerMarks(triggers: readonly JudgedTrigger[], rows: Rows, apart: number): TriggerMark[] {
  const marks: TriggerMark[] = [];
  const open = new Map<JudgedTrigger['verdict'], TriggerMark>();
  for (const { time, verdict } of triggers) {
    const row = rowAt(time, rows);
    const x = time - rows.starts[row]!;
    const near = open.get(verdict);
    if (near && near.row === row && x - near.x < apart) {
      near.times.push(time);
      continue;
    }
    const mark = { row, x, verdict, times: [time] };
    open.set(verdict, mark);
    marks.push(mark);
  }
  return marks;
}

/** Labels that begin at `x` (pixels), each in the first lane where it overlaps no other; null where there is none. */
export function lanesOf(labels: readonly { x: number; width: number }[], lanes: number): (number | null)[] {
  const free = Array.from({ length: lanes }, () => Number.NEGATIVE_INFINITY);
  return labels.map(({ x, width }) => {
    const lane = free.findIndex((from) => x >= from);
    if (lane < 0) return null;
    free[lane] = x + width;
    return lane;
  });
}

function rowAt(time: number, { seconds, starts }: Rows): number {
  return Math.min(starts.length - 1, Math.max(0, Math.floor(time / seconds + 1e-9)));
}
