import { luminanceFrames, type ReadingOptions } from '../../measure/evidence.js';
import type { ReplayedClip } from '../replayed-clip.js';
import { readAround } from '../triggers/reading.js';
import { type ChangeMaps, ChangeMapWriter } from './change-maps.js';

/** Change maps of one clip, and how to give up what they are kept in. */
export interface MapsUnder {
  /** One for each group of settings. */
  maps: ChangeMaps[];
  dispose: () => Promise<void>;
}

/**
 * Change maps of one clip under several groups of settings, in one reading of the frames that are active under any of
 * them and of those that these are compared with.
 * @param all the same clip and camera each time, with evidence
 */
export async function changesUnder(
  all: readonly ReplayedClip[],
  options: ReadingOptions,
): Promise<MapsUnder> {
  const first = all[0]!;
  const { clip, camera } = first;
  const { width, height } = camera.analysis;
  const levels = [...new Set(all.map(({ level }) => level))];
  const areas = (await first.evidence!.bothColumns(levels))[camera.area];
  const enough = ({ level, settings }: ReplayedClip, k: number) =>
    areas.get(level)![k]! >= settings.minimumArea;
  const wanted = Array.from(first.times.keys()).filter((k) => all.some((replayed) => enough(replayed, k)));
  const writers = all.map(({ level }) => new ChangeMapWriter(width, height, level, options.cache));
  const dispose = async () => {
    for (const writer of writers) await writer.dispose();
  };
  try {
    await readAround(
      // Nothing is asked about triggers, so none are told.
      { ...first, fired: [] },
      { looked: [], wanted },
      {
        onFrame: async (place, difference) => {
          for (const [i, replayed] of all.entries())
            if (enough(replayed, place)) await writers[i]!.append(place, difference);
        },
        onTrigger: () => undefined,
        onLook: () => undefined,
      },
      (indices) => luminanceFrames(clip, indices, camera.analysis, options.signal),
      options.onProgress,
    );
    return { maps: await Promise.all(writers.map((writer) => writer.finish())), dispose };
  } catch (error) {
    await dispose();
    throw error;
  }
}
