import type { Camera } from '../../src/camera/description.js';
import { sweepCamera } from '../../src/sweep/for-camera.js';
import type { Grid } from '../../src/sweep/grid.js';
import type { SettingsGroup } from '../../src/sweep/groups.js';
import { IGNORED, type Outcomes, TRUE } from '../../src/sweep/outcomes.js';
import type { SweepClip } from '../../src/sweep/sweep.js';
import { type Seen, type SweepVisitor, walkSettings } from '../../src/sweep/walk.js';

/** How sharply one clip tells of its visits and its calm moments; areas in pixels. */
export interface Sharp {
  /**
   * For each setting of the grid the peaks of its false triggers, declustered by the camera itself: the largest area that
   * would still have fired while it was busy with each.
   */
  peaks: readonly Float64Array[];
  /**
   * For each setting the margin of each visit, in the order of the truth: the largest minimumArea that would have caught it
   * were the camera never busy, with the setting's other dials; 0 for none. Settings that share them share the array.
   */
  margins: readonly Float64Array[];
}

/** Reads the margins of one clip's visits, and the peaks of what fired falsely, under every setting of a grid. */
export async function sharpOf(clip: SweepClip, grid: Grid, camera: Camera): Promise<Sharp> {
  const collector = new Collector(clip.outcomes, clip.times, clip.truth.visits.length, grid.size);
  await walkSettings(clip, grid, sweepCamera(camera), [{ from: 0, times: clip.times, visitor: collector }]);
  return collector;
}

class Collector implements SweepVisitor, Sharp {
  readonly peaks: Float64Array[];
  readonly margins: Float64Array[];
  private readonly shared = new Map<string, { fires: Float64Array; margins: Float64Array }>();
  private fires: Float64Array = new Float64Array();
  private busy = 0;
  private found: number[] = [];

  constructor(
    private readonly outcomes: Outcomes,
    private readonly times: Float64Array,
    private readonly visits: number,
    settings: number,
  ) {
    this.peaks = new Array(settings);
    this.margins = new Array(settings);
  }

  begin({ level, mostChanged, persistence, busy }: SettingsGroup, seen: Seen): void {
    const key = `${level} ${mostChanged} ${persistence}`;
    const known = this.shared.get(key);
    const fires = known?.fires ?? firesUpTo(seen, mostChanged, persistence);
    if (!known) this.shared.set(key, { fires, margins: this.marginsIn(fires) });
    this.fires = fires;
    this.busy = busy;
    this.found = [];
  }

  add(frame: number): void {
    const { verdict } = this.outcomes;
    const isFalse = (k: number) => verdict[k] !== TRUE && verdict[k] !== IGNORED;
    if (!isFalse(frame)) return;
    let peak = this.fires[frame]!;
    const until = this.times[frame]! + this.busy;
    for (let k = frame + 1; k < this.times.length && this.times[k]! < until - 1e-9 && isFalse(k); k++) {
      peak = Math.max(peak, this.fires[k]!);
    }
    this.found.push(peak);
  }

  end({ settings, level, mostChanged, persistence }: SettingsGroup): void {
    const { margins } = this.shared.get(`${level} ${mostChanged} ${persistence}`)!;
    const peaks = Float64Array.from(this.found);
    for (const setting of settings) {
      this.peaks[setting] = peaks;
      this.margins[setting] = margins;
    }
  }

  private marginsIn(fires: Float64Array): Float64Array {
    const { visitStart, visitList } = this.outcomes;
    const margins = new Float64Array(this.visits);
    fires.forEach((area, k) => {
      for (let i = visitStart[k]!; i < visitStart[k + 1]!; i++) {
        const visit = visitList[i]!;
        margins[visit] = Math.max(margins[visit]!, area);
      }
    });
    return margins;
  }
}

/** For each frame the largest minimumArea at which an idle camera fires there: the least of so many areas in a row. */
function firesUpTo({ area, changed }: Seen, mostChanged: number, persistence: number): Float64Array {
  const counted = (k: number) => (changed && changed[k]! > mostChanged ? 0 : area[k]!);
  return Float64Array.from(area, (_, k) => {
    if (k + 1 < persistence) return 0;
    let least = counted(k);
    for (let j = 1; j < persistence; j++) least = Math.min(least, counted(k - j));
    return least;
  });
}
