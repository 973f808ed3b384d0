import type { Camera } from '../../camera/description.js';
import { drawMask } from '../../camera/mask.js';
import type { Clip } from '../../clip/open.js';
import type { KnownBusy } from '../../engine/pipeline.js';
import { sampleFrames } from '../../engine/sample.js';
import type { ReadingOptions } from '../../measure/evidence.js';
import { ENGINE_MEANING, evidenceKey } from '../../measure/evidence-key.js';
import { measure } from '../../measure/pass.js';
import type { Frames, Track } from '../../measure/track.js';
import { keyOf } from '../../store/key.js';
import type { ColumnSource } from '../../sweep/columns.js';
import { HeldFrames } from './held-frames.js';
import type { Look, Size } from './look.js';
import type { Reckoning } from './reckoning.js';
import { triedText } from './trying.js';

/** Raised whenever evidence with known busy times comes out other than it did. */
const MEANING = 1;

/** A look with the busy times that it is to be seen with; null where the reference goes on. */
export interface LookTried {
  look: Look;
  busy: KnownBusy | null;
}

/** Gives the evidence of a clip under many looks, measured side by side and kept on disk. */
export class Looking {
  readonly times: Float64Array;
  private readonly indices: Uint32Array;

  /**
   * @param rate frames a second that the camera looks at
   * @param held frames of the clip, shared by all that look at it
   */
  constructor(
    private readonly clip: Clip,
    readonly rate: number,
    private readonly options: Pick<ReadingOptions, 'cache' | 'signal'> & { reckoning?: Reckoning },
    private readonly held: Pick<HeldFrames, 'read'> = new HeldFrames(clip, [], options.signal),
  ) {
    this.indices = sampleFrames(clip.times, clip.seconds, clip.rate, rate);
    this.times = Float64Array.from(this.indices, (i) => clip.times[i]!);
  }

  /**
   * Evidence under each look, in their order; what the cache lacks is measured in one reading a size.
   * @param floor the lowest level
   */
  async at(tried: readonly LookTried[], floor: number): Promise<ColumnSource[]> {
    const sources = new Map<LookTried, ColumnSource>();
    for (const group of bySize(tried).values()) {
      const [{ look }] = group as [LookTried];
      const tracks = group.map((one) => this.trackOf(one, floor));
      const { cache, reckoning } = this.options;
      reckoning?.trying(`trying ${triedText(group.map((one) => one.look))}`);
      let frames = 0;
      const onProgress = (done: number) => {
        reckoning?.compared(done - frames, look, group.length);
        frames = done;
      };
      const measured = await measure(this.framesAt(look), tracks, { cache, onProgress });
      // What was kept takes no time.
      onProgress(this.times.length);
      group.forEach((one, i) => {
        sources.set(one, measured[i]!);
      });
    }
    return tried.map((one) => sources.get(one)!);
  }

  /** Luminance at a size, frame after frame; what was read before and could be held is not decoded again. */
  framesAt(size: Size): Frames {
    const { times, held, indices } = this;
    return { times, from: (first) => held.read(size, indices.subarray(first)) };
  }

  private trackOf({ look, busy }: LookTried, floor: number): Track {
    const { width, height, smooth, reference } = look;
    const camera = cameraOf(look, this.rate);
    const mask = this.maskAt(camera);
    const key = evidenceKey(this.clip, camera, mask, floor, this.indices, this.times);
    const differencer = { width, height, smooth, reference, mask };
    return busy
      ? {
          key: keyOf([ENGINE_MEANING, MEANING, key, busy]),
          differencer: { ...differencer, knownBusy: busy },
          floor,
        }
      : { key, differencer, floor };
  }

  maskAt(camera: Camera): Uint8Array | null {
    return drawMask(this.clip.labels?.mask, camera);
  }
}

/** A camera that looks so, and has nothing else to it. */
export function cameraOf({ width, height, smooth, reference, whileBusy }: Look, rate: number): Camera {
  return {
    version: 1,
    name: 'camera',
    analysis: { width, height, rate, smooth },
    reference: { ...reference, whileBusy },
    area: 'region',
    shutterLag: 0,
    burst: { photos: 1, interval: 1 },
    controls: {},
  };
}

function sizeName({ width, height }: Size): string {
  return `${width} ${height}`;
}

function bySize(tried: readonly LookTried[]): Map<string, LookTried[]> {
  const groups = new Map<string, LookTried[]>();
  for (const one of tried) {
    const name = sizeName(one.look);
    groups.set(name, [...(groups.get(name) ?? []), one]);
  }
  return groups;
}
