import type { Region } from '../../engine/region.js';
import { smooth } from '../../engine/smooth.js';
import { createScene, type Scene } from '../../scene/scene.js';
import type { SceneSpec } from '../../scene/spec.js';
import type { CauseName } from '../diagnosis.js';

/** Part of what fired that must be gone with a cause for the cause to have done it. */
const MOST_OF_IT = 0.6;
/** Gain of the sensor from which what nothing else explains is its noise. */
const NOISY = 3;

/**
 * What made a region fire, exactly: the scene is drawn again without each of its causes in turn, all else being equal
 * to the last leaf, and the cause is the one without which the region would not have changed. Null where no one cause
 * did it alone.
 */
export class Blame {
  private readonly without: { cause: CauseName; scene: () => Scene }[];

  constructor(
    private readonly spec: SceneSpec,
    private readonly radius: number,
    private readonly gainAt: (frame: number) => number,
  ) {
    this.without = absences(spec).map(({ cause, changes }) => {
      let scene: Scene | undefined;
      return {
        cause,
        scene: () => {
          scene ??= createScene({ ...spec, ...changes });
          return scene;
        },
      };
    });
  }

  /**
   * @param frame that fired; `before` the frame it is compared with
   * @param level smallest difference that counts
   */
  of(frame: number, before: number, region: Region, level: number): CauseName | null {
    let best: { cause: CauseName; left: number } | null = null;
    for (const { cause, scene } of this.without) {
      const left = this.changedIn(scene(), frame, before, region, level);
      if (!best || left < best.left) best = { cause, left };
    }
    if (best && best.left <= (1 - MOST_OF_IT) * region.pixels) return best.cause;
    return this.gainAt(frame) >= NOISY && (!best || best.left > 0.8 * region.pixels) ? 'noise' : null;
  }

  private changedIn(scene: Scene, frame: number, before: number, region: Region, level: number): number {
    const { width, height } = this.spec;
    const at = (k: number) => {
      const [y] = scene.drawLuminance(k, k + 1);
      return smooth(y as Uint8Array, width, height, this.radius);
    };
    const now = at(frame);
    const then = at(before);
    let changed = 0;
    for (let i = 0; i < now.length; i++) {
      if (region.mask[i] === 1 && Math.abs(now[i]! - then[i]!) >= level) changed++;
    }
    return changed;
  }
}

/** The same scene without one thing each. */
function absences(spec: SceneSpec): { cause: CauseName; changes: Partial<SceneSpec> }[] {
  const { conditions } = spec;
  const out: { cause: CauseName; changes: Partial<SceneSpec> }[] = [];
  const add = (cause: CauseName, there: boolean, changes: Partial<SceneSpec>) => {
    if (there) out.push({ cause, changes });
  };
  add('wind', conditions.wind > 0, { conditions: { ...conditions, wind: 0 } });
  add('rain', conditions.rain > 0, { conditions: { ...conditions, rain: 0 } });
  add('light', (spec.clouds ?? 0) > 0, { clouds: 0 });
  add('insect', (spec.insects ?? 0) > 0, { insects: 0 });
  add('shake', (spec.shakes ?? 0) > 0, { shakes: 0 });
  add('shadow', (spec.shadows ?? 0) > 0, { shadows: 0 });
  add('unknown', spec.visits !== undefined, { visits: undefined });
  add('unknown', spec.person !== undefined, { person: undefined });
  return out;
}
