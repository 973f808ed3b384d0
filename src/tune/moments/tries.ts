import type { Camera } from '../../camera/description.js';
import { photosFor } from '../../camera/timing.js';
import { TIME_TOLERANCE } from '../../engine/triggers.js';
import { indexOf } from '../../score/stretch-index.js';
import type { Stretch } from '../../score/stretches.js';
import type { Truth } from '../../score/truth.js';
import type { ColumnSource } from '../../sweep/columns.js';
import { sweepCamera } from '../../sweep/for-camera.js';
import type { Grid } from '../../sweep/grid.js';
import type { SettingsGroup } from '../../sweep/groups.js';
import { IGNORED, type Outcomes, outcomesAt, TRUE } from '../../sweep/outcomes.js';
import { Tally } from '../../sweep/tally.js';
import { type SweepVisitor, walkSettings } from '../../sweep/walk.js';
import { type Goal, worthOf } from '../goal.js';

type Worth = Goal & { kind: 'worth' };

/** What every setting of a grid is worth, in photos of nothing: what is known, and what hangs on each unknown row. */
export interface Tries {
  /** Settings. */
  size: number;
  /** For each setting, what is known to hang on it. */
  known: Float64Array;
  /** For each unknown row and in it for each setting, what is added if it is an animal, or if it is nothing. */
  animal: Float32Array[];
  nothing: Float32Array[];
}

/** Frames whose triggers are judged by the labels, or lie in time that nobody looked through and no moment is in. */
const JUDGED = -1;
const QUIET = -2;

/**
 * Replays every setting, and counts what its triggers are by the labels; in moments that nobody has looked at, what they
 * would be. Triggers in other time that nobody looked through count as photos of nothing: that is what they mostly are.
 * @param rows the unknown ones, as stretches of their moments as visits would be made of them; apart and in order, in each
 */
export async function tryAll(
  clip: ColumnSource & { times: Float64Array },
  camera: Camera,
  grid: Grid,
  truth: Truth,
  rows: readonly (readonly Stretch[])[],
  goal: Worth,
): Promise<Tries> {
  const photosOf = (time: number) => photosFor(camera, time);
  const outcomes = outcomesAt(clip.times, photosOf, truth);
  const owners = ownersOf(outcomes, photosOf, truth, rows);
  const tries: Tries = {
    size: grid.size,
    known: new Float64Array(grid.size),
    animal: rows.map(() => new Float32Array(grid.size)),
    nothing: rows.map(() => new Float32Array(grid.size)),
  };
  const visitor = new Gains(tries, owners, new Tally({ truth, outcomes }), goal);
  await walkSettings(clip, grid, sweepCamera(camera), [{ from: 0, times: clip.times, visitor }]);
  return tries;
}

interface Owners {
  /** For each frame the unknown row that a trigger at it belongs to, or how else it is judged. */
  row: Int32Array;
  /** Whether a photo of such a trigger would show it. */
  shows: Uint8Array;
}

/** A trigger belongs to the first moment that one of its photos shows, else to the one in which it fires. */
function ownersOf(
  { times, verdict }: Outcomes,
  photosOf: (time: number) => number[],
  truth: Truth,
  rows: readonly (readonly Stretch[])[],
): Owners {
  const moments = rows.flat();
  const rowOf = rows.flatMap((row, r) => row.map(() => r));
  const index = indexOf(moments);
  const aside = indexOf(truth.setAside);
  const owners = { row: new Int32Array(times.length).fill(JUDGED), shows: new Uint8Array(times.length) };
  times.forEach((time, k) => {
    if (verdict[k] === TRUE) return;
    const photos = photosOf(time);
    const shown = photos.flatMap((photo) => index.at(photo))[0];
    const owner = shown ?? index.at(time)[0];
    if (owner !== undefined) {
      owners.row[k] = rowOf[owner]!;
      owners.shows[k] = Number(shown !== undefined);
      return;
    }
    const late = (photos[0] ?? time) > truth.seconds + TIME_TOLERANCE;
    const unseen = verdict[k] === IGNORED && !late && ![time, ...photos].some((at) => aside.any(at));
    if (unseen) owners.row[k] = QUIET;
  });
  return owners;
}

class Gains implements SweepVisitor {
  private readonly shown: Uint32Array;
  private readonly fired: Uint32Array;
  private quiet = 0;

  constructor(
    private readonly tries: Tries,
    private readonly owners: Owners,
    private readonly tally: Tally,
    private readonly goal: Worth,
  ) {
    this.shown = new Uint32Array(tries.animal.length);
    this.fired = new Uint32Array(tries.animal.length);
  }

  begin(): void {
    this.shown.fill(0);
    this.fired.fill(0);
    this.quiet = 0;
    this.tally.clear();
  }

  add(frame: number): void {
    const row = this.owners.row[frame]!;
    if (row === JUDGED) this.tally.add(frame);
    else if (row === QUIET) this.quiet++;
    else {
      this.fired[row]!++;
      this.shown[row]! += this.owners.shows[frame]!;
    }
  }

  end({ settings }: Pick<SettingsGroup, 'settings'>): void {
    const { tries, tally, fired, shown, goal } = this;
    const known = worthOf(tally.caught, tally.falseTriggers + this.quiet, goal);
    for (const setting of settings) tries.known[setting] = known;
    for (let row = 0; row < fired.length; row++) {
      if (fired[row] === 0) continue;
      const [all, seen] = [fired[row]!, shown[row]!];
      const animal = worthOf(seen > 0 ? 1 : 0, all - seen, goal);
      const nothing = worthOf(0, all, goal);
      for (const setting of settings) {
        tries.animal[row]![setting] = animal;
        tries.nothing[row]![setting] = nothing;
      }
    }
  }
}
