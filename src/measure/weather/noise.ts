import { formatOfName } from '../../clip/formats.js';
import { jpegSteps } from '../../clip/jpeg.js';
import { headOf } from '../../clip/large.js';
import { type Clip, frames } from '../../clip/open.js';
import { stillFile } from '../../clip/stills.js';
import { type Size, varianceLeft } from '../../weather/averaging.js';
import { type PhotonTransfer, StillPlaces } from '../../weather/sensor/photon-transfer.js';
import { COLOUR_SHARE } from '../../weather/sensor/sensor.js';
import { sampledFrames } from './sample.js';
import { seenAs } from './seen-as.js';

/** Noise by clip and size: tune asks for the same one for every strength it tries. */
const found = new WeakMap<Clip, Map<string, PhotonTransfer>>();

/**
 * Measures the noise of a clip's sensor on frames that somebody reads for something else.
 * @param at the size at which noise is wanted, for reducing evens it out and compression ties neighbours
 */
export class NoiseMeter {
  private readonly places: StillPlaces;

  constructor(
    private readonly clip: Clip,
    private readonly at: Size,
  ) {
    this.places = new StillPlaces(at.width, at.height, blockOf(clip, at));
  }

  /** @param y luminance at that size; `first` whether it does not follow directly on the frame before */
  see(y: Uint8Array, first: boolean): void {
    if (first) this.places.restart();
    this.places.see(y);
  }

  /** What it comes to; kept for whoever asks for it again. */
  async measure(signal?: AbortSignal): Promise<PhotonTransfer> {
    const { clip, at } = this;
    const colour = await isColour(clip, at, signal);
    const left = varianceLeft(clip, at);
    const step = await stepOf(clip, at);
    const rounding = roundingOf({ colour, left, jpeg: step !== null });
    const transfer = this.places.measure({ rounding, left, as: storedAs(clip), step });
    const known = found.get(seenAs(clip)) ?? new Map<string, PhotonTransfer>();
    found.set(seenAs(clip), known.set(sizeName(at), transfer));
    return transfer;
  }
}

/**
 * Variance, grey levels squared, of what was rounded before frames came to the size that noise is measured at: each channel as it
 * was stored, and the luminance that JPEG makes of them before it is transformed and after (ITU-T T.871 and T.81, 8 bits each). A
 * grey file that is not reduced was rounded once more by the last of these, as the frames seen here are.
 */
function roundingOf({ colour, left, jpeg }: { colour: boolean; left: number; jpeg: boolean }): number {
  const times = colour ? COLOUR_SHARE + (jpeg ? 2 : 0) : (left < 1 ? 1 : 0) + (jpeg ? 1 : 0);
  return (times / 12) * left;
}

/** A meter for frames about to be read; null where the clip's noise is known at this size. */
export function meterFor(clip: Clip, at: Size): NoiseMeter | null {
  return found.get(seenAs(clip))?.has(sizeName(at)) ? null : new NoiseMeter(clip, at);
}

/** The noise of a clip's sensor at some size, by a sample of its frames where it is not known already. */
export async function noiseOf(clip: Clip, at: Size, signal?: AbortSignal): Promise<PhotonTransfer> {
  const known = found.get(seenAs(clip))?.get(sizeName(at));
  if (known) return known;
  const meter = new NoiseMeter(clip, at);
  for await (const { y, first } of sampledFrames(clip, at, clip.rate, signal)) meter.see(y, first);
  return meter.measure(signal);
}

function sizeName({ width, height }: Size): string {
  return `${width}x${height}`;
}

/** Pixels of the blocks that compression works in. */
const BLOCK = 8;

/**
 * How wide such blocks are at some size; null where they are too small to be seen. Where frames are not reduced by a whole
 * number, neighbours share pixels within a block and not across its edge, which would look like compression.
 */
function blockOf({ width }: Size, at: Size): number | null {
  const by = width / at.width;
  return Number.isInteger(by) && BLOCK / by >= 2 && Number.isInteger(BLOCK / by) ? BLOCK / by : null;
}

/** How a recording is compressed, as far as its files say. */
function storedAs({ source }: Clip): string | null {
  if (source.kind === 'video') return 'as video';
  return source.names.some((name) => formatOfName(name) === 'JPEG') ? 'as JPEG' : null;
}

/** The steps that a clip's first JPEG was rounded to, of what is seen of it at some size. */
async function stepOf({ source, width, height }: Clip, at: Size): Promise<number | null> {
  if (source.kind === 'video' || formatOfName(source.names[0]!) !== 'JPEG') return null;
  const steps = jpegSteps(await headOf(stillFile(source, 0)));
  if (!steps) return null;
  const seen = steps
    .slice(0, Math.max(1, Math.round((BLOCK * at.height) / height)))
    .flatMap((row) => row.slice(0, Math.max(1, Math.round((BLOCK * at.width) / width))));
  return Math.sqrt(seen.reduce((sum, step) => sum + step ** 2, 0) / seen.length);
}

/** Whether pixels come in three channels of their own. */
async function isColour(clip: Clip, at: Size, signal: AbortSignal | undefined): Promise<boolean> {
  if (clip.source.kind === 'video') return clip.source.pixelFormat !== 'gray';
  const reading = { minWidth: at.width, minHeight: at.height, ...(signal && { signal }) };
  for await (const { pixels, channels } of frames(clip, [0], reading)) {
    return channels === 3 && pixels.some((value, i) => value !== pixels[i - (i % 3)]);
  }
  return false;
}
