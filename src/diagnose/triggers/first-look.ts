import type { Camera } from '../../camera/description.js';
import { floorFor } from '../../camera/floor.js';
import { drawMask } from '../../camera/mask.js';
import type { ResolvedSettings } from '../../camera/settings.js';
import { busyFor, photosFor } from '../../camera/timing.js';
import type { Clip } from '../../clip/open.js';
import { memoryOf } from '../../engine/reference.js';
import { changedRegion, largestRegion } from '../../engine/region.js';
import { isActive, levelOf, TriggerMachine } from '../../engine/triggers.js';
import { analysedFrames } from '../../measure/analysed.js';
import { evidenceOf, type ReadingOptions } from '../../measure/evidence.js';
import type { Moment } from '../../measure/track.js';
import { judgeAll } from '../../score/replayed.js';
import { truthOf } from '../../score/truth.js';
import type { Cache } from '../../store/cache.js';
import { Around, framesAround } from './around.js';
import { Finder, type Finding } from './finder.js';

/**
 * Looks around triggers in the very reading that first measures a clip's evidence: which frames fire follows from what was
 * measured up to them, so that none need be read again. It finds what a reading of its own would.
 */
export class FirstLook {
  private readonly finder: Finder;
  private readonly around: Around;
  private readonly machine: TriggerMachine;
  private readonly about: Finding;
  private readonly truth: ReturnType<typeof truthOf> | null;
  private readonly frames: number;
  private next = 0;

  /** @param mask what is not watched, at the analysis size */
  constructor(
    clip: Clip,
    camera: Camera,
    settings: ResolvedSettings,
    private readonly mask: Uint8Array | null,
    cache: Cache,
  ) {
    const { times } = analysedFrames(clip, camera);
    this.truth = clip.labels && truthOf(clip.labels, clip.seconds);
    const judged = judgeAll([], () => [], this.truth);
    this.about = { clip, camera, settings, level: levelOf(settings.threshold), judged };
    this.finder = new Finder(this.about, { cache, maps: this.truth !== null });
    this.around = new Around(framesAround({ times, camera }), (trigger, look) =>
      this.finder.onLook(trigger, look),
    );
    this.machine = new TriggerMachine(settings.persistence, busyFor(camera, settings.cooldown));
    this.frames = times.length;
  }

  /** Takes the frames that are measured, from the first on. */
  async watch(moment: Moment): Promise<void> {
    const { camera, settings, level } = this.about;
    // A reading that goes on in the middle, or begins once more, is none to look around in.
    if (moment.frame !== this.next) return;
    this.next++;
    this.around.take(moment.frame, moment.time, moment.seen);
    const area = moment.evidence[camera.area][level]!;
    const changed = moment.evidence.changed[level]!;
    const { minimumArea, mostChanged } = settings;
    const fires = this.machine.step(moment.time, isActive(area, changed, minimumArea, mostChanged));
    const isKept = area >= minimumArea && this.finder.maps !== null;
    if (fires || isKept) {
      const difference = this.unmasked(moment.difference);
      if (fires) this.fire(moment, difference);
      if (isKept) await this.finder.maps!.append(moment.frame, difference);
    }
    this.around.settle();
    if (this.next === this.frames) this.around.end();
  }

  /** What was found; null where not every frame went by. */
  get whole(): Finder | null {
    return this.next === this.frames ? this.finder : null;
  }

  /** Gives up what the maps are kept in. */
  async dispose(): Promise<void> {
    await this.finder.maps?.dispose();
  }

  private fire(moment: Moment, difference: Uint8Array): void {
    const { camera, level, judged } = this.about;
    const { width, height } = camera.analysis;
    const photos = (time: number) => photosFor(camera, time);
    const trigger = judged.triggers.push(...judgeAll([moment.time], photos, this.truth).triggers) - 1;
    const find = camera.area === 'changed' ? changedRegion : largestRegion;
    const region = find(difference, width, height, level);
    this.finder.onTrigger(trigger, region, difference);
    if (!this.finder.asks(trigger)) return;
    const lag = memoryOf(camera.reference).nearest;
    const reference = moment.compared();
    const look = { width, height, level, lag, reference, difference: difference.slice(), region };
    this.around.lookAround(trigger, look);
  }

  private unmasked(difference: Uint8Array): Uint8Array {
    const { mask } = this;
    return mask ? difference.map((value, i) => (mask[i] === 0 ? value : 0)) : difference;
  }
}

/**
 * Measures a clip's evidence under some settings, unless it is kept, and looks around their triggers on the way.
 * @returns to be given up once what it found was taken; nothing where no frame had to be read
 */
export async function firstLook(
  clip: Clip,
  camera: Camera,
  settings: ResolvedSettings,
  options: ReadingOptions,
): Promise<FirstLook> {
  const mask = drawMask(settings.mask ?? clip.labels?.mask, camera);
  const first = new FirstLook(clip, camera, settings, mask, options.cache);
  const floor = floorFor(camera, levelOf(settings.threshold));
  try {
    await evidenceOf(clip, camera, mask, floor, options, {
      watch: (moment) => first.watch(moment),
      // Of a visit missed it is asked whether the mask hid it.
      unmasked: clip.labels?.visits.some(({ type }) => type === 'animal') ?? false,
    });
  } catch (error) {
    await first.dispose();
    throw error;
  }
  return first;
}
