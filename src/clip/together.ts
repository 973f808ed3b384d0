import { luminance } from '../engine/luminance.js';
import { decoder } from './decode.js';
import { type Clip, luminanceFrames } from './open.js';
import type { Size } from './outlet.js';
import { reductionFor } from './reduction.js';
import { type SizeSeen, type SizeWanted, unionOf } from './sizes-wanted.js';
import { stillFrames } from './still-frames.js';
import type { StillsSource } from './stills.js';
import { videoTogether } from './video-together.js';

/** Frames of a clip that somebody looks at, at a size of their own. */
export interface Look extends Size {
  /** Rising. */
  indices: ArrayLike<number>;
}

/** One frame as one of several looks at it; the array is overwritten by the next frame of that size. */
export interface Looked {
  /** The place of the look. */
  look: number;
  y: Uint8Array;
}

type Read = Pick<Clip, 'source' | 'width' | 'height' | 'keyFrames'>;

/**
 * Frames of one clip as several look at them, in one reading: each gets its own frames in order, to the byte as
 * `luminanceFrames` alone gives them. A video is decoded once. Stills are decoded once for all sizes to which they are reduced
 * alike while they are decoded, for a picture that is decoded smaller is not the average of the whole one to the byte.
 * @throws as `luminanceFrames` does
 */
export async function* luminanceTogether(
  clip: Read,
  looks: readonly Look[],
  signal?: AbortSignal,
): AsyncGenerator<Looked> {
  const wanted = looks.map((look, place) => ({ ...look, place })).filter(({ indices }) => indices.length > 0);
  const [only, ...others] = wanted;
  if (!only) return;
  if (others.length === 0) {
    for await (const y of luminanceFrames(clip, only.indices, only, signal)) yield { look: only.place, y };
    return;
  }
  const sizes = alikeInSize(wanted);
  const { source } = clip;
  const frames =
    source.kind === 'video'
      ? videoTogether({ ...clip, source }, sizes, signal)
      : stillsTogether({ ...clip, source }, sizes, signal);
  const next = looks.map(() => 0);
  for await (const { index, size, y } of frames) {
    for (const { place, indices } of sizes[size]!.looks) {
      if (indices[next[place]!] !== index) continue;
      next[place]!++;
      yield { look: place, y };
    }
  }
}

type Placed = Look & { place: number };

function alikeInSize(looks: readonly Placed[]): (SizeWanted & { looks: Placed[] })[] {
  const sizes = new Map<string, Placed[]>();
  for (const look of looks) {
    const key = `${look.width}x${look.height}`;
    sizes.set(key, [...(sizes.get(key) ?? []), look]);
  }
  return [...sizes.values()].map((of) => ({
    width: of[0]!.width,
    height: of[0]!.height,
    indices: unionOf(of.map(({ indices }) => indices)),
    looks: of,
  }));
}

async function* stillsTogether(
  { source, width, height }: Read & { source: StillsSource },
  sizes: readonly SizeWanted[],
  signal?: AbortSignal,
): AsyncGenerator<SizeSeen> {
  const by = await decoder();
  const alike = new Map<number, number[]>();
  for (const [place, to] of sizes.entries()) {
    const factor = await reductionFor(source, { width, height }, leastOf(to), by);
    alike.set(factor, [...(alike.get(factor) ?? []), place]);
  }
  const readings = [...alike.values()].map((places) => {
    const indices = unionOf(places.map((place) => sizes[place]!.indices));
    const options = { ...leastOf(sizes[places[0]!]!), signal };
    return { places, indices, next: 0, frames: stillFrames(source, { width, height }, indices, options) };
  });
  const seen = sizes.map(() => 0);
  const into = sizes.map((size) => new Uint8Array(size.width * size.height));
  try {
    for (const index of unionOf(readings.map(({ indices }) => indices))) {
      for (const reading of readings) {
        if (reading.indices[reading.next] !== index) continue;
        reading.next++;
        const { value: frame } = await reading.frames.next();
        if (!frame) return;
        for (const place of reading.places) {
          const { indices, ...to } = sizes[place]!;
          if (indices[seen[place]!] !== index) continue;
          seen[place]!++;
          const { pixels, channels } = frame;
          const y = luminance(pixels, channels, frame.width, frame.height, to.width, to.height, into[place]!);
          yield { index, size: place, y };
        }
      }
    }
  } finally {
    for (const { frames } of readings) await frames.return(undefined);
  }
}

function leastOf({ width, height }: Size): { minWidth: number; minHeight: number } {
  return { minWidth: width, minHeight: height };
}
