import { useEffect, useState } from 'preact/hooks';
import { evidence } from '../../state/evidence.js';
import { workspace } from '../../state/workspace.js';
import { engine } from '../../worker/bridge.js';
import { palette } from './palette.js';
import { type Shades, shadesOf } from './shades.js';

/** More would be finer than a screen, and slow. */
const MOST_BUCKETS = 8192;

/**
 * How much changed over a part of the open clip, from the worker; the last known until it is there, null while there is no
 * evidence.
 * @param buckets parts of the time that are told apart
 */
export function useShades(from: number, to: number, buckets: number): Shades | null {
  const [shades, setShades] = useState<Shades | null>(null);
  const held = evidence.value;
  const camera = workspace.value?.camera;
  const { ink } = palette();
  useEffect(() => {
    if (held.kind !== 'held' || !camera || buckets < 1 || to <= from) {
      setShades(null);
      return;
    }
    let late = false;
    const { width, height } = camera.analysis;
    void engine()
      .strip(camera.area, Math.min(MOST_BUCKETS, Math.round(buckets)), from, to)
      .then((told) => {
        if (!late) setShades(shadesOf(told, from, to, width * height, ink));
      });
    return () => {
      late = true;
    };
  }, [held, camera, from, to, buckets, ink]);
  return shades;
}
