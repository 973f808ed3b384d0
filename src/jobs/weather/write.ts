import { relative, resolve } from 'node:path';
import { pngEncoder } from '../../clip/encode.js';
import type { Manifest } from '../../clip/manifest.js';
import type { Clip } from '../../clip/open.js';
import { makeFolderAtomically } from '../../files/folder.js';
import { simulatedFrames } from '../../measure/weather/frames.js';
import type { Setup } from '../../weather/setup.js';
import { createWeather } from '../../weather/weather.js';

/** Times that differ less from those of a constant rate, in mean intervals, are taken for it. */
const EVEN = 1e-6;

export interface Written {
  frames: number;
  seconds: number;
  simulated: NonNullable<Manifest['simulated']>;
}

/**
 * Writes a clip folder of the same clip in other conditions: grey lossless stills, so that the decoder sees the noise that
 * was put on, labels as they are, and clip.json saying that it is simulated, from what, and what was assumed. The folder appears whole or not at all.
 */
export async function writeSimulated(
  clip: Clip,
  dir: string,
  setup: Setup,
  options: {
    /** What rests on assumption besides what the weather itself assumes. */
    assumed: readonly string[];
    start?: string | undefined;
    onProgress?: (done: number, total: number) => void;
    /** Done when all is written, before the folder appears. */
    atLast?: (() => Promise<void>) | undefined;
  },
): Promise<Written> {
  const weather = createWeather(setup);
  const conditions = { ...clip.manifest.conditions, ...given(setup.to) };
  const simulated = {
    from: relative(resolve(dir), resolve(clip.dir)),
    seed: setup.seed,
    ...conditions,
    assumed: [...weather.assumed, ...options.assumed],
  };
  const total = clip.times.length;
  await makeFolderAtomically(dir, async (folder) => {
    await folder.makeFolder('frames');
    const encode = await pngEncoder();
    const indices = clip.times.map((_, i) => i);
    let done = 0;
    for await (const y of simulatedFrames(clip, indices, setup, weather)) {
      const name = `${String(done++).padStart(6, '0')}.png`;
      const { width, height } = setup;
      const png = encode({ pixels: Uint8Array.from(y), channels: 1, width, height });
      await folder.writeLater(`frames/${name}`, png);
      options.onProgress?.(done, total);
    }
    await folder.settle();
    await folder.writeJson('clip.json', {
      ...described(clip),
      ...(options.start && { start: options.start }),
      conditions,
      simulated,
    });
    if (clip.labels) await folder.writeJson('labels.json', clip.labels);
    await options.atLast?.();
  });
  return { frames: total, seconds: clip.seconds, simulated };
}

function described({ manifest, times, rate }: Clip): Manifest {
  const { version, title, site, start, place, scene } = manifest;
  const even = times.every((time, i) => Math.abs(time * rate - i) < EVEN);
  return {
    version,
    ...(title === undefined ? {} : { title }),
    ...(site === undefined ? {} : { site }),
    frames: 'frames/*.png',
    ...(even ? { rate } : { times: Array.from(times) }),
    ...(start === undefined ? {} : { start }),
    ...(place && { place }),
    ...(scene && { scene }),
  };
}

/** Without what is undefined. */
function given<T extends object>(values: T): Partial<T> {
  return Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined)) as Partial<T>;
}
