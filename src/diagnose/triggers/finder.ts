import type { Region } from '../../engine/region.js';
import type { Cache } from '../../store/cache.js';
import { ChangeMapWriter } from '../cures/change-maps.js';
import type { Box } from '../diagnosis.js';
import type { ReplayedClip } from '../replayed-clip.js';
import type { Found } from './kept.js';
import type { Look } from './look.js';
import { LuckCounter } from './luck.js';
import { measure } from './measures/measures.js';
import { boxOfVisit, fractionBox, PlaceCounter } from './places.js';

/** What finding needs to know; of `judged` the visits, and each trigger by the time that it is told of. */
export type Finding = Pick<ReplayedClip, 'clip' | 'camera' | 'settings' | 'level' | 'judged'>;

/** Gathers what the frames around the triggers of a clip show, while they go by. */
export class Finder {
  private readonly places: PlaceCounter;
  private readonly luck: LuckCounter;
  private readonly boxes = new Map<number, Box>();
  private readonly triggers: Found['triggers'] = [];
  /** What changed where in frames of enough; null where no mask can be tried. */
  readonly maps: ChangeMapWriter | null;

  constructor(
    private readonly about: Finding,
    { cache, maps }: { cache: Cache; maps: boolean },
  ) {
    const { width, height } = about.camera.analysis;
    this.places = new PlaceCounter(about);
    this.luck = new LuckCounter(about, (visit) => boxOfVisit(about, visit));
    this.maps = maps ? new ChangeMapWriter(width, height, about.level, cache) : null;
  }

  /** Whether a trigger is to be explained, and so looked around: it is false, or nobody knows. */
  asks(trigger: number): boolean {
    const { verdict } = this.about.judged.triggers[trigger]!;
    return verdict === 'false' || verdict === null;
  }

  /** What fired; the difference without what is masked. */
  onTrigger(trigger: number, region: Region, difference: Uint8Array): void {
    if (!this.asks(trigger)) {
      this.places.addTrue(trigger, region);
      this.luck.add(trigger, difference);
      return;
    }
    this.boxes.set(trigger, fractionBox(region));
    this.places.addExplained(region);
  }

  /** Of the triggers asked for, what surrounds them. */
  onLook(trigger: number, look: Look): void {
    this.triggers.push({ trigger, box: this.boxes.get(trigger) as Box, measures: measure(look) });
  }

  /** All that was found. */
  get found(): Found {
    return { triggers: this.triggers, places: this.places.places, byLuck: this.luck.byLuck };
  }
}
