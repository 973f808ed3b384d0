import type { Camera } from '../../camera/description.js';
import type { Settings } from '../../camera/settings.js';
import { normalized } from '../../diagnose/cures/mask-hot.js';
import { RATHER_NOTHING } from '../../diagnose/cures/masks.js';
import { levelOf } from '../../engine/triggers.js';
import { CELLS, cellsUnder } from '../../measure/pieces.js';
import { leftUnder, oftenIn, type Stirred } from '../../measure/stirring.js';
import { type BoxSource, columnsFrom } from '../../sweep/columns.js';
import { OutcomeCounter, type SweepCounts } from '../../sweep/counts.js';
import { sweepCamera } from '../../sweep/for-camera.js';
import { Grid, type GridDial, thinned } from '../../sweep/grid.js';
import { firstAt } from '../../sweep/march.js';
import { TRUE } from '../../sweep/outcomes.js';
import type { SweepPart } from '../../sweep/sweep.js';
import { walkSettings } from '../../sweep/walk.js';
import type { Goal } from '../../tune/goal.js';
import { poolOf } from '../../tune/pool.js';
import { recommendToSearch } from '../../tune/recommend.js';

/** A clip with where it changed, as masks are sought on it. */
export interface Noted {
  /** Of all of the clip's analysed frames, seconds. */
  times: Float64Array;
  /** By levels. */
  stirred: ReadonlyMap<number, Stirred>;
  within: BoxSource | null;
}

/** A clip and the stretches of it that a search may see. */
export interface NotedParts extends Noted {
  parts: readonly SweepPart[];
}

/** Groups of settings to look under at most. */
const MOST_SETTINGS = 4;
/** Settings tried with each mask before it is measured. */
const COARSE = 200;
/**
 * An allowance binds the setting in the end, and says little of where to look: what one mask lets through at a sensitive
 * setting, the next one hides. So half of the settings are those best where a visit is worth five false triggers.
 */
const WHATEVER: Goal = { kind: 'worth', photos: 5, photosPerTrigger: 1 };
/** More than this share of the picture is never masked. */
const MOST_MASKED = 0.5;

/**
 * The settings under which to look for masks: of each sensitivity those that would be recommended if the cells could be hidden
 * in which something stirs rather than animals are, whatever their shape; of all these the few that would be worth most. Which
 * settings are best without a mask says little of which are best with one: where everything fires at once no mask helps, and
 * where hardly anything does none is needed. Best without one are often the most sensitive, with three frames in a row: there
 * nothing is found.
 * @param clips of one site
 */
export async function settingsToSearch(
  clips: readonly NotedParts[],
  camera: Camera,
  grid: Grid,
  goal: Goal,
): Promise<Settings[]> {
  const aims = goal.kind === 'worth' ? [goal] : [goal, WHATEVER];
  const found: { settings: Settings; worth: number }[][] = aims.map(() => []);
  for (const { level, threshold } of eachLevel(grid, clips)) {
    const under = anyChange(
      camera,
      grid.dials.map((dial) => (dial.sets === 'threshold' ? threshold : dial)),
    );
    const hidden = cellsToHide(clips, level);
    const counts: SweepCounts[] = [];
    for (const clip of clips) counts.push(...(await sweepHidden(clip, hidden, camera, under)));
    if (counts.length === 0) return [];
    const pool = poolOf(counts);
    for (const [a, aim] of aims.entries()) {
      const { setting, worth } = recommendToSearch(pool, under, aim);
      found[a]!.push({ settings: under.settingsAt(setting), worth });
    }
  }
  const best = found.flatMap((of) =>
    of.sort((a, b) => b.worth - a.worth).slice(0, MOST_SETTINGS / aims.length),
  );
  // Two aims may be served by the same.
  return [...new Map(best.map(({ settings }) => [JSON.stringify(settings), settings])).values()];
}

/** What the best settings are worth under a mask that hides these cells, as near as cells and a coarser grid tell. */
export async function worthHidden(
  clips: readonly NotedParts[],
  hidden: Uint8Array,
  camera: Camera,
  grid: Grid,
  goal: Goal,
): Promise<number> {
  const coarse = anyChange(camera, thinned(anyChange(camera, grid.dials).dials, COARSE));
  const counts: SweepCounts[] = [];
  for (const clip of clips) counts.push(...(await sweepHidden(clip, hidden, camera, coarse)));
  return recommendToSearch(poolOf(counts), coarse, goal).worth;
}

/** Fires however much changes in all: to limit that hides sway from a camera, which is what the mask is for. */
function anyChange(camera: Camera, dials: readonly GridDial[]): Grid {
  return new Grid(
    camera,
    dials.map((dial) => {
      if (dial.sets !== 'mostChanged') return dial;
      const most = Math.max(...dial.values);
      return { ...dial, positions: [dial.positions[dial.values.indexOf(most)]!], values: [most] };
    }),
  );
}

/** The levels noted, each with the dial of the threshold standing at it. */
function eachLevel(grid: Grid, clips: readonly Noted[]): { level: number; threshold: GridDial }[] {
  const dial = grid.dials[grid.dialSetting('threshold')]!;
  const levels = dial.values.map(levelOf);
  return [...(clips[0]?.stirred.keys() ?? [])].flatMap((level) => {
    const i = levels.indexOf(level);
    if (i < 0) return [];
    return { level, threshold: { ...dial, positions: [dial.positions[i]!], values: [dial.values[i]!] } };
  });
}

/** The stretches under every setting while some cells are hidden, as near as cells tell. */
async function sweepHidden(
  { times, stirred, within, parts }: NotedParts,
  hidden: Uint8Array,
  camera: Camera,
  grid: Grid,
): Promise<SweepCounts[]> {
  const columns = columnsFrom((level) => leftUnder(nearest(stirred, level), hidden, times.length));
  const counted = parts.map((part) => ({
    ...part,
    visitor: new OutcomeCounter(grid.size, part, within !== null),
  }));
  await walkSettings({ ...columns, times, within }, grid, sweepCamera(camera), counted);
  return counted.map(({ visitor }) => visitor.counts);
}

/** The cells in which something stirs at a level rather than animals are, as many of those that stir most as may be masked. */
function cellsToHide(clips: readonly NotedParts[], level: number): Uint8Array {
  const { nothing, animals } = whereStirs(clips, level);
  const order = Array.from({ length: CELLS }, (_, cell) => cell)
    .filter((cell) => nothing[cell]! > RATHER_NOTHING * animals[cell]!)
    .sort((a, b) => nothing[b]! - nothing[a]!);
  const hidden = new Uint8Array(CELLS);
  for (const [i, cell] of order.entries()) {
    if (i >= MOST_MASKED * CELLS) break;
    hidden[cell] = 1;
  }
  return hidden;
}

/** Where it stirs at a level without an animal, and where animals are; both add up to 1 or are empty. */
function whereStirs(
  clips: readonly NotedParts[],
  level: number,
): { nothing: Float64Array; animals: Float64Array } {
  const nothing = new Float64Array(CELLS);
  const animals = new Float64Array(CELLS);
  for (const { times, stirred, parts } of clips) {
    const here = nearest(stirred, level);
    const quiet = new Uint8Array(times.length);
    for (const { from, outcomes } of parts) {
      outcomes.verdict.forEach((verdict, k) => {
        quiet[from + k] = verdict === TRUE ? 0 : 1;
      });
    }
    const often = oftenIn(here, (place) => quiet[place]!);
    add(nothing, often);
    const frames = quiet.reduce((sum, is) => sum + is, 0);
    for (const visit of parts.flatMap(({ truth }) => truth.visits)) {
      if (visit.box) {
        add(animals, normalized(cellsUnder(visit.box)));
        continue;
      }
      const [first, last] = [firstAt(times, visit.start, 0), firstAt(times, visit.end, 0)];
      const seen = oftenIn(here, (place) => (place >= first && place <= last ? 1 : 0));
      const usual = (last + 1 - first) / Math.max(1, frames);
      add(animals, normalized(seen.map((n, c) => Math.max(0, n - usual * often[c]!))));
    }
  }
  return { nothing: normalized(nothing), animals: normalized(animals) };
}

function add(to: Float64Array, from: Float64Array): void {
  for (let c = 0; c < to.length; c++) to[c]! += from[c]!;
}

/** Where a clip changed at the level noted that is nearest to one. */
export function nearest(stirred: ReadonlyMap<number, Stirred>, level: number): Stirred {
  const noted = [...stirred.keys()];
  const best = noted.reduce((a, b) => (Math.abs(b - level) < Math.abs(a - level) ? b : a));
  return stirred.get(best)!;
}
