import { transfer } from 'comlink';
import type { Camera } from '../../../camera/description.js';
import type { Settings } from '../../../camera/settings.js';
import type { Labels } from '../../../score/labels.js';
import { type Asked, whatToAsk } from '../../../tune/moments/ask.js';
import type { Size } from '../../../words/region-marks.js';
import type { EvidenceColumns } from '../../protocol.js';
import { columnsFrom } from './columns.js';
import { type FrontPoint, frontOf } from './front.js';
import { type Marked, marksOn } from './marks.js';
import { type Replayed, replay } from './replay.js';
import { type StripShades, stripOf } from './strip.js';

/** What the worker does: it holds a clip's evidence, and answers what settings would do on it. One method a question. */
export class Engine {
  private evidence: EvidenceColumns | null = null;

  /** @param bytes as the server gives them; handed over, not copied */
  hold(bytes: ArrayBuffer): { levels: number[]; frames: number } {
    this.evidence = columnsFrom(bytes);
    return { levels: this.evidence.levels, frames: this.evidence.times.length };
  }

  /** @throws Error where nothing is held */
  replay(camera: Camera, settings: Settings, labels: Labels | null, seconds: number): Replayed {
    return replay(this.held(), camera, settings, labels, seconds);
  }

  /** @throws Error where nothing is held, Problem for dials that cannot be swept */
  front(
    camera: Camera,
    labels: Labels,
    seconds: number,
  ): Promise<{ searched: number; points: FrontPoint[] }> {
    return frontOf(this.held(), camera, labels, seconds);
  }

  /** @param difference of one frame, as the server gives it */
  marks(difference: ArrayBuffer, camera: Camera, level: number, size: Size): Marked {
    const marked = marksOn(new Uint8Array(difference), camera, level, size);
    return transfer(marked, [marked.pixels.buffer]);
  }

  /** @throws Error where nothing is held */
  strip(area: Camera['area'], buckets: number, from: number, to: number): StripShades {
    const shades = stripOf(this.held(), area, buckets, from, to);
    return transfer(shades, [shades.most.buffer]);
  }

  /**
   * What is worth asking the owner.
   * @param photos of nothing that one more visit is worth
   * @param seed the clip's name
   */
  moments(camera: Camera, labels: Labels, seconds: number, photos: number, seed: string): Promise<Asked> {
    return whatToAsk(this.held(), camera, labels, seconds, photos, seed);
  }

  private held(): EvidenceColumns {
    if (!this.evidence) throw new Error('no evidence is held');
    return this.evidence;
  }
}
