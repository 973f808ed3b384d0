import seedrandom from 'seedrandom';
import { describe, expect, it } from 'vitest';
import { cameraSchema } from '../../src/camera/description.js';
import { isActive, triggersOf } from '../../src/engine/triggers.js';
import { columnsFrom } from '../../src/sweep/columns.js';
import { sweepCamera } from '../../src/sweep/for-camera.js';
import { Grid } from '../../src/sweep/grid.js';
import type { SettingsGroup } from '../../src/sweep/groups.js';
import { type Seen, type SweepVisitor, walkSettings } from '../../src/sweep/walk.js';

const description = {
  version: 1,
  analysis: { width: 20, height: 10, rate: 5 },
  reference: { kind: 'previous' },
  controls: {
    sensitivity: { sets: 'threshold', choices: [3, 7] },
    small: { sets: 'minimumArea', choices: [4, 20] },
    large: { sets: 'mostChanged', choices: [60, 200] },
    steady: { sets: 'persistence', choices: [1, 2] },
    // The camera takes longer than either for its photo, so both come to the same.
    pause: { sets: 'cooldown', choices: [0.1, 0.2, 3] },
  },
  shutterLag: 1,
};
const FRAMES = 400;
const random = seedrandom('walk');
const region = Array.from({ length: FRAMES }, () => Math.floor(60 * random() ** 3));
const others = region.map(() => Math.floor(60 * random()));
const times = Float64Array.from({ length: FRAMES }, (_, k) => k / 5);
const at = (k: number, level: number) => (level > 3 ? region[k]! >> 1 : region[k]!);
const columns = columnsFrom((level, kind) =>
  Uint32Array.from(region, (_, k) => at(k, level) + (kind === 'changed' ? others[k]! : 0)),
);

/** Writes down what it is told. */
class Witness implements SweepVisitor {
  readonly fired = new Map<number, number[]>();
  readonly groups: { group: SettingsGroup; seen: Seen; frames: number[] }[] = [];
  private open = false;

  begin(group: SettingsGroup, seen: Seen): void {
    expect(this.open).toBe(false);
    this.open = true;
    this.groups.push({ group, seen, frames: [] });
  }

  add(frame: number): void {
    expect(this.open).toBe(true);
    this.groups.at(-1)!.frames.push(frame);
  }

  end(group: SettingsGroup): void {
    expect(group).toBe(this.groups.at(-1)!.group);
    this.open = false;
    for (const setting of group.settings) {
      expect(this.fired.has(setting)).toBe(false);
      this.fired.set(setting, this.groups.at(-1)!.frames);
    }
  }
}

describe('a walk over all settings', () => {
  const camera = cameraSchema.parse(description);
  const grid = new Grid(camera);
  const { busyOf } = sweepCamera(camera);

  it('tells each visitor of the triggers of every setting, in its own frames, once', async () => {
    const [whole, part] = [new Witness(), new Witness()];
    const [from, to] = [130, 300];
    const stretches = [
      { from: 0, times, visitor: whole },
      { from, times: times.subarray(from, to), visitor: part },
    ];
    await walkSettings({ times, ...columns }, grid, sweepCamera(camera), stretches);
    expect(whole.fired.size).toBe(grid.size);
    for (let setting = 0; setting < grid.size; setting++) {
      const s = grid.settingsAt(setting);
      const firedFrom = (first: number, of: Float64Array) => {
        const active = (k: number) => {
          const area = at(first + k, s.threshold);
          return isActive(area, area + others[first + k]!, s.minimumArea, s.mostChanged);
        };
        return triggersOf(of, active, s.persistence, busyOf(s.cooldown));
      };
      expect(whole.fired.get(setting)).toEqual(firedFrom(0, times));
      expect(part.fired.get(setting)).toEqual(firedFrom(from, times.slice(from, to)));
    }
    expect([...whole.fired.values()].some((frames) => frames.length > 1)).toBe(true);
  });

  it('puts settings together that come to the same', async () => {
    const witness = new Witness();
    await walkSettings({ times, ...columns }, grid, sweepCamera(camera), [
      { from: 0, times, visitor: witness },
    ]);
    expect(witness.groups.map(({ group }) => group.settings.length).sort()).toEqual(
      Array.from({ length: 32 }, (_, i) => (i < 16 ? 1 : 2)),
    );
    for (const { group } of witness.groups) {
      for (const setting of group.settings) {
        const { minimumArea, mostChanged, persistence, cooldown } = grid.settingsAt(setting);
        expect(group).toMatchObject({ minimumArea, mostChanged, persistence, busy: busyOf(cooldown) });
      }
    }
  });

  it('shows how much changed in the frames of each visitor', async () => {
    const witness = new Witness();
    const stretch = { from: 100, times: times.subarray(100, 150), visitor: witness };
    await walkSettings({ times, ...columns }, grid, sweepCamera(camera), [stretch]);
    for (const { group, seen } of witness.groups) {
      expect(seen.area).toHaveLength(50);
      expect(seen.area[7]).toBe(at(107, group.level));
      expect(seen.changed![7]).toBe(at(107, group.level) + others[107]!);
    }
  });
});
