import { Pieces } from '../../engine/pieces.js';
import { CELLS, COLUMNS, cellsUnder, type PiecesAt, ROWS } from '../../measure/pieces.js';
import { piecesIn, type Stirred } from '../../measure/stirring.js';
import { TRUE } from '../../sweep/outcomes.js';
import type { SweepPart } from '../../sweep/sweep.js';
import { windowOf } from '../missed/window.js';
import type { ReplayedClip } from '../replayed-clip.js';
import type { ChangeMaps } from './change-maps.js';

/** What fired, or could have, in one frame. */
export type HotFrame = PiecesAt;

/** Frames held for the search at most: more than an hour of wind at five a second. The effect is measured on all. */
const MOST_FRAMES = 20_000;

/** The frames of one part of a clip in which enough changed, cut into cells. */
export async function hotFrames(
  replayed: ReplayedClip,
  maps: ChangeMaps,
  part: SweepPart,
): Promise<HotFrame[]> {
  const { width, height } = maps;
  const cellOf = Uint16Array.from({ length: width * height }, (_, i) => {
    const [x, y] = [i % width, Math.floor(i / width)];
    return Math.floor((y * ROWS) / height) * COLUMNS + Math.floor((x * COLUMNS) / width);
  });
  const finder = new Pieces(width, height);
  const tally = new Uint32Array(CELLS);
  const hot: HotFrame[] = [];
  const all = replayed.camera.area === 'changed';
  for await (const { place, changed } of maps.read()) {
    if (place < part.from) continue;
    if (place >= part.from + part.times.length || hot.length === MOST_FRAMES) break;
    const pieces: HotFrame['pieces'] = [];
    const close = () => {
      const cells: number[] = [];
      for (let cell = 0; cell < CELLS; cell++) if (tally[cell] !== 0) cells.push(cell);
      const counts = cells.map((cell) => tally[cell]!);
      pieces.push({ cells, counts });
      tally.fill(0);
    };
    finder.forEach(changed, all ? 1 : replayed.settings.minimumArea, (pixels) => {
      for (let i = 0; i < pixels.length; i++) tally[cellOf[pixels[i]!]!]!++;
      if (!all) close();
    });
    if (all) close();
    hot.push({ place, pieces });
  }
  return hot;
}

/** The same of all of a clip, from what was noted when it was first read. */
export function hotFramesNoted(stirred: Stirred, minimumArea: number): HotFrame[] {
  const hot: HotFrame[] = [];
  for (const frame of piecesIn(stirred, minimumArea)) {
    hot.push(frame);
    if (hot.length === MOST_FRAMES) break;
  }
  return hot;
}

/** How much lies in each cell; both add up to 1, or are empty. */
export interface Density {
  /** Of what changed while no animal was there. */
  nothing: Float64Array;
  /** Of the animals: their boxes, else what changed more often than it does without them. */
  animals: Float64Array;
}

/** Where changes come from and where animals are, in the parts that cures are found on. */
export function densityOf(
  parts: readonly {
    replayed: Pick<ReplayedClip, 'camera' | 'times'>;
    part: SweepPart;
    hot: readonly HotFrame[];
  }[],
): Density {
  const nothing = new Float64Array(CELLS);
  const animals = new Float64Array(CELLS);
  for (const { replayed, part, hot } of parts) {
    const byPlace = new Map(hot.map((frame) => [frame.place, frame]));
    const outside = hot.filter(({ place }) => part.outcomes.verdict[place - part.from] !== TRUE);
    const here = shares(outside);
    for (let c = 0; c < CELLS; c++) nothing[c]! += here[c]!;
    const usual = here.map((share) => share / Math.max(1, part.times.length));
    for (const visit of part.truth.visits) {
      const inView = windowOf(replayed, visit).inView;
      const frames = inView.flatMap((k) => byPlace.get(k) ?? []);
      const seen = visit.box
        ? cellsUnder(visit.box)
        : shares(frames).map((share, c) => Math.max(0, share - inView.length * usual[c]!));
      const total = seen.reduce((sum, x) => sum + x, 0);
      if (total > 0)
        seen.forEach((x, c) => {
          animals[c]! += x / total;
        });
    }
  }
  return { nothing: normalized(nothing), animals: normalized(animals) };
}

/** Each piece counts as one, spread over its cells. */
function shares(frames: readonly HotFrame[]): Float64Array {
  const sum = new Float64Array(CELLS);
  for (const { pieces } of frames) {
    for (const { cells, counts } of pieces) {
      let size = 0;
      for (let i = 0; i < counts.length; i++) size += counts[i]!;
      for (let i = 0; i < counts.length; i++) sum[cells[i]!]! += counts[i]! / size;
    }
  }
  return sum;
}

/** Figures that add up to 1 where any is above 0. */
export function normalized(values: Float64Array): Float64Array {
  const total = values.reduce((sum, x) => sum + x, 0);
  return total > 0 ? values.map((x) => x / total) : values;
}
