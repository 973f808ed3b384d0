import type { CauseName } from '../diagnose/diagnosis.js';
import type { Region } from '../engine/region.js';
import { smooth } from '../engine/smooth.js';
import { createScene, type Scene } from '../scene/scene.js';
import type { SceneSpec } from '../scene/spec.js';

/** Part of what fired that must be gone with a cause for the cause to have done it. */
const MOST_OF_IT = 0.6;
/** Part that is left without any of them where none did it. */
const NONE_OF_IT = 0.8;

/** A scene of which each cause can be left out, all else being equal to the last leaf. */
export interface Drawn {
  width: number;
  height: number;
  /** Some causes more than once: two things that are both something new. */
  absences: readonly { cause: CauseName; draw: (frame: number) => Uint8Array }[];
  /** What it was where none of them did it; null where that is not known. */
  rest(frame: number): CauseName | null;
}

/**
 * What made a region fire, exactly: the frames are drawn again without each cause in turn, and the cause is the one
 * without which the region would not have changed. Null where no one cause did it alone.
 *
 * @param frame that fired; `before` the frame it is compared with
 * @param radius of the camera's smoothing, pixels
 * @param level smallest difference that counts
 */
export function blamed(
  { width, height, absences, rest }: Drawn,
  {
    frame,
    before,
    region,
    radius,
    level,
  }: { frame: number; before: number; region: Region; radius: number; level: number },
): CauseName | null {
  let best: { cause: CauseName; left: number } | null = null;
  for (const { cause, draw } of absences) {
    const now = smooth(draw(frame).slice(), width, height, radius);
    const then = smooth(draw(before).slice(), width, height, radius);
    let left = 0;
    for (let i = 0; i < now.length; i++) {
      if (region.mask[i] === 1 && Math.abs(now[i]! - then[i]!) >= level) left++;
    }
    if (!best || left < best.left) best = { cause, left };
  }
  if (best && best.left <= (1 - MOST_OF_IT) * region.pixels) return best.cause;
  return !best || best.left > NONE_OF_IT * region.pixels ? rest(frame) : null;
}

/** A garden and what it is without each of its causes; scenes are laid out when first needed. */
export function gardenWithout(spec: SceneSpec, rest: Drawn['rest']): Drawn {
  const { width, height, conditions } = spec;
  const out: { cause: CauseName; draw: (frame: number) => Uint8Array }[] = [];
  const add = (cause: CauseName, there: boolean, changes: Partial<SceneSpec>) => {
    if (!there) return;
    let scene: Scene | undefined;
    out.push({
      cause,
      draw: (frame) => {
        scene ??= createScene({ ...spec, ...changes });
        const [y] = scene.drawLuminance(frame, frame + 1);
        return y as Uint8Array;
      },
    });
  };
  add('wind', conditions.wind > 0, { conditions: { ...conditions, wind: 0 } });
  add('rain', conditions.rain > 0, { conditions: { ...conditions, rain: 0 } });
  add('light', (spec.clouds ?? 0) > 0, { clouds: 0 });
  add('insect', (spec.insects ?? 0) > 0, { insects: 0 });
  add('shake', (spec.shakes ?? 0) > 0, { shakes: 0 });
  add('shadow', (spec.shadows ?? 0) > 0, { shadows: 0 });
  add('unknown', spec.visits !== undefined, { visits: undefined });
  add('unknown', spec.person !== undefined, { person: undefined });
  return { width, height, absences: out, rest };
}
