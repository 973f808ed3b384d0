import { asStored, type Outlet, reducedTo } from './outlet.js';
import { type SizeSeen, type SizeWanted, unionOf } from './sizes-wanted.js';
import { videoFrames } from './video.js';
import { type Enterable, entryBefore } from './video-entry.js';
import { averageOf, isReducible } from './video-luminance.js';

/**
 * Luminance of one video at several sizes, decoded once: what ffmpeg reduces comes through the pipe one size below the other in
 * one picture, with the whole plane where our own average must be taken of it.
 * @param sizes each of them once
 * @throws as `videoLuminance` does
 */
export async function* videoTogether(
  video: Enterable,
  sizes: readonly SizeWanted[],
  signal?: AbortSignal,
): AsyncGenerator<SizeSeen> {
  const { source } = video;
  const indices = unionOf(sizes.map((size) => size.indices));
  const entry = await entryBefore(video, indices[0]!);
  const reducible: boolean[] = [];
  for (const size of sizes) reducible.push(await isReducible(video, size));
  const whole = reducible.includes(false) ? [asStored(source, video)] : [];
  const outlets = [...whole, ...sizes.filter((_, i) => reducible[i]).map((size) => reducedTo(source, size))];
  const outlet = stacked(outlets);
  const pieces = outlets.map(({ width, height, channels }) => new Uint8Array(width * height * channels));
  const averages = sizes.map(({ width, height }) => new Uint8Array(width * height));
  // Where each size is among the pieces; the whole plane is the first.
  let piece = whole.length;
  const places = reducible.map((is) => (is ? piece++ : 0));
  const next = sizes.map(() => 0);
  const into = new Uint8Array(outlet.width * outlet.height * outlet.channels);
  for await (const { index, pixels } of videoFrames(source, video, outlet, indices, {
    signal,
    into,
    entry,
  })) {
    unstack(pixels, outlet, outlets, pieces);
    for (const [size, wanted] of sizes.entries()) {
      if (wanted.indices[next[size]!] !== index) continue;
      next[size]!++;
      const from = pieces[places[size]!]!;
      yield { index, size, y: reducible[size] ? from : averageOf(video, from, wanted, averages[size]) };
    }
  }
}

/** Several ways of bringing out a frame as one: each from the same decoded frame, one below the other. */
function stacked(outlets: readonly Outlet[]): Outlet {
  const [first, ...rest] = outlets;
  if (rest.length === 0) return first!;
  const width = Math.max(...outlets.map((outlet) => outlet.width));
  const each = outlets.map(
    ({ filters, height }, i) => `[in${i}]${filters},pad=w=${width}:h=${height}:x=0:y=0[out${i}]`,
  );
  const labels = (name: string) => outlets.map((_, i) => `[${name}${i}]`).join('');
  return {
    // Stacking goes by times, which a file may give twice or not at all: numbers do as well, for order is all that counts.
    filters: `settb=1,setpts=N,split=${outlets.length}${labels('in')};${each.join(';')};${labels('out')}vstack=inputs=${outlets.length},format=gray`,
    width,
    height: outlets.reduce((sum, { height }) => sum + height, 0),
    channels: 1,
  };
}

/** Copies each part of a stacked frame into an array of its own, without what fills its rows up. */
function unstack(
  pixels: Uint8Array,
  { width, channels }: Outlet,
  outlets: readonly Outlet[],
  pieces: readonly Uint8Array[],
): void {
  let from = 0;
  for (const [i, outlet] of outlets.entries()) {
    const [row, own] = [width * channels, outlet.width * channels];
    const piece = pieces[i]!;
    if (row === own) piece.set(pixels.subarray(from, from + piece.length));
    else {
      for (let y = 0; y < outlet.height; y++) {
        piece.set(pixels.subarray(from + y * row, from + y * row + own), y * own);
      }
    }
    from += outlet.height * row;
  }
}
