import { transfer } from 'comlink';
import type { Camera } from '../../../camera/description.js';
import type { Settings } from '../../../camera/settings.js';
import type { Polygon } from '../../../engine/mask.js';
import type { Labels } from '../../../score/labels.js';
import { type Asked, whatToAsk } from '../../../tune/moments/ask.js';
import type { Size } from '../../../words/region-marks.js';
import { type FrontPoint, frontOf } from './front.js';
import { Held, type Slot } from './held.js';
import { type Marked, marksOn } from './marks.js';
import { type Replayed, replay } from './replay.js';
import { type StripShades, stripOf } from './strip.js';

/** What the worker does: it holds a clip's evidence, and answers what settings would do on it. One method a question. */
export class Engine {
  private readonly slots = new Map<Slot, Held>();

  /** @param bytes as the server gives them; handed over, not copied */
  hold(slot: Slot, bytes: ArrayBuffer): { levels: number[]; frames: number } {
    const held = new Held(bytes);
    this.slots.set(slot, held);
    return { levels: held.evidence.levels, frames: held.evidence.times.length };
  }

  /** Forgets what is of no use any more. */
  drop(slot: Slot): void {
    this.slots.delete(slot);
  }

  /**
   * @param of the visits and boxes that it was measured for
   * @throws Error where no evidence is held
   */
  holdWithin(slot: Slot, of: string, bytes: ArrayBuffer): void {
    this.held(slot).takeWithin(of, bytes);
  }

  /** @throws Error where nothing is held */
  replay(slot: Slot, camera: Camera, settings: Settings, labels: Labels | null, seconds: number): Replayed {
    const held = this.held(slot);
    return replay(held.evidence, camera, settings, labels, seconds, held.withinOf(labels));
  }

  /** @throws Error where nothing is held, Problem for dials that cannot be swept */
  front(
    camera: Camera,
    labels: Labels,
    seconds: number,
  ): Promise<{ searched: number; points: FrontPoint[] }> {
    const held = this.held('dials');
    return frontOf(held.evidence, camera, labels, seconds, held.withinOf(labels));
  }

  /**
   * @param difference of one frame, as the server gives it
   * @param mask under which it is looked at
   */
  marks(
    difference: ArrayBuffer,
    camera: Camera,
    mask: readonly Polygon[],
    level: number,
    size: Size,
  ): Marked {
    const marked = marksOn(new Uint8Array(difference), camera, mask, level, size);
    return transfer(marked, [marked.pixels.buffer]);
  }

  /** @throws Error where nothing is held */
  strip(area: Camera['area'], buckets: number, from: number, to: number): StripShades {
    const shades = stripOf(this.held('dials').evidence, area, buckets, from, to);
    return transfer(shades, [shades.most.buffer]);
  }

  /**
   * What is worth asking the owner.
   * @param photos of nothing that one more visit is worth
   * @param seed the clip's name
   */
  moments(camera: Camera, labels: Labels, seconds: number, photos: number, seed: string): Promise<Asked> {
    return whatToAsk(this.held('dials').evidence, camera, labels, seconds, photos, seed);
  }

  private held(slot: Slot): Held {
    const held = this.slots.get(slot);
    if (!held) throw new Error('no evidence is held');
    return held;
  }
}
