import { Problem } from '../base/problem.js';
import { type Decoder, decoder, type Pixels } from './decode.js';
import { pictureName } from './formats.js';
import { aheadFor, bytesToDecode, Waste } from './large.js';
import { reductionFor, sampleIndices } from './reduction.js';
import { broken, decodeStill, type StillsSource, stillFile, withStills } from './stills.js';

/** Frames of stills in the order asked for, decoded a few at a time. */
export async function* stillFrames(
  source: StillsSource,
  size: { width: number; height: number },
  indices: ArrayLike<number>,
  options: {
    minWidth: number;
    minHeight: number;
    inFlight?: number | undefined;
    signal?: AbortSignal | undefined;
  },
): AsyncGenerator<Pixels & { index: number }> {
  const by = await decoder();
  const factor = await reductionFor(source, size, options, by);
  const decode = async (index: number): Promise<Pixels & { index: number }> => {
    const pixels = await decodeAt(source, index, by, factor);
    const [width, height] = [pixels.width * factor, pixels.height * factor];
    if (width !== size.width || height !== size.height) {
      throw new Problem(
        'bad-picture',
        `${pictureName(stillFile(source, index), index)}: the picture is ${width}x${height}, but frame 0 is ${size.width}x${size.height}; all pictures of a clip must have one size: take it out, or make a clip of each size`,
      );
    }
    return { ...pixels, index };
  };
  const bytesEach = await bytesToDecode(samplesOf(source), size, factor);
  const ahead = options.inFlight ?? aheadFor(bytesEach);
  const waste = new Waste();
  // Decoding runs on other threads: with some pictures in flight all cores work, and awaiting them in turn keeps order.
  const waiting: Promise<Pixels & { index: number }>[] = [];
  let next = 0;
  const refill = (room: number) => {
    while (waiting.length < room && next < indices.length) {
      const one = decode(indices[next++]!);
      one.catch(() => undefined);
      waiting.push(one);
    }
  };
  try {
    for (;;) {
      options.signal?.throwIfAborted();
      refill(Math.max(1, ahead));
      const frame = await waiting.shift();
      if (!frame) return;
      // Before the frame is handed over, so that decoding goes on while this thread works on it.
      refill(ahead);
      yield frame;
      waste.add(frame);
    }
  } finally {
    await Promise.allSettled(waiting);
  }
}

function samplesOf(source: StillsSource): string[] {
  return sampleIndices(source).map((index) => stillFile(source, index));
}

/** Reduced where asked for; whatever goes wrong then is told by decoding in full, which knows what a broken file is. */
export async function decodeAt(
  source: StillsSource,
  index: number,
  by: Decoder,
  factor: 1 | 2 | 4 | 8,
): Promise<Pixels> {
  const { reduced } = by;
  if (factor === 1 || !reduced) return decodeStill(source, index, by);
  try {
    return await withStills(source, () => reduced(stillFile(source, index), factor));
  } catch (error) {
    await decodeStill(source, index, by);
    throw broken(stillFile(source, index), index, error);
  }
}
