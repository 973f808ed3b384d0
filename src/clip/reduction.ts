import type { Decoder, Pixels } from './decode.js';
import { formatOfName } from './formats.js';
import { aheadFor, collect } from './large.js';
import { decodeStill, type StillsSource, stillFile, withStills } from './stills.js';

/** Grey levels. The contract allows 1 on average; pictures between the samples may be somewhat worse. */
const mostDifference = 0.75;
const samples = 3;

/**
 * By how much a clip's JPEGs may be reduced while they are decoded: the largest of 8, 4, 2 that divides the size, does
 * not go below the analysis size, and keeps a few pictures from all over the clip within a grey level of the area
 * average; otherwise 1. It depends on the clip and the analysis size only, never on which frames are asked for.
 */
export function reductionFor(
  source: StillsSource,
  size: Size,
  least: { minWidth: number; minHeight: number },
  by: Decoder,
): Promise<1 | 2 | 4 | 8> {
  const known = found.get(source) ?? new Map<string, Promise<1 | 2 | 4 | 8>>();
  found.set(source, known);
  const key = `${by.name} ${least.minWidth}x${least.minHeight}`;
  const finding = known.get(key) ?? find(source, size, least, by);
  known.set(key, finding);
  return finding;
}

/** What was found in this run, for one clip is read several times. */
const found = new WeakMap<StillsSource, Map<string, Promise<1 | 2 | 4 | 8>>>();

type Size = { width: number; height: number };

async function find(
  source: StillsSource,
  size: Size,
  least: { minWidth: number; minHeight: number },
  by: Decoder,
): Promise<1 | 2 | 4 | 8> {
  if (!by.reduced || !source.names.every((name) => formatOfName(name) === 'JPEG')) return 1;
  // Loader options stand in brackets after the file's name: a name with brackets of its own would be misread.
  if (/[[\]]/.test(source.folder) || source.names.some((name) => /[[\]]/.test(name))) return 1;
  const candidates = ([8, 4, 2] as const).filter(
    (s) =>
      size.width % s === 0 &&
      size.height % s === 0 &&
      size.width / s >= least.minWidth &&
      size.height / s >= least.minHeight,
  );
  for (const s of candidates) if (await fits(source, size, s, by)) return s;
  return 1;
}

async function fits(source: StillsSource, size: Size, s: 2 | 4 | 8, by: Decoder): Promise<boolean> {
  for (const index of sampleIndices(source)) {
    // A broken picture is reported when its turn comes, by its own index.
    const difference = await differenceOf(source, size, index, s, by).catch(() => 0);
    if (!(difference <= mostDifference)) return false;
  }
  return true;
}

/** Of a large picture half the rows are compared at a time, which takes longer and less memory. */
async function differenceOf(
  source: StillsSource,
  { width, height }: Size,
  index: number,
  s: 2 | 4 | 8,
  by: Decoder,
): Promise<number> {
  const isLarge = by.rows !== undefined && aheadFor(3 * width * height) === 0;
  const atOnce = isLarge ? s * Math.ceil(height / s / 2) : height;
  const reduce = () => (by as Required<Decoder>).reduced(stillFile(source, index), s);
  let sum = 0;
  for (let from = 0; from < height; from += atOnce) {
    const to = Math.min(height, from + atOnce);
    const full = await decodeStill(source, index, by, isLarge ? { from, to } : undefined);
    const reduced = await withStills(source, reduce).catch(() => null);
    if (!reduced) return Number.POSITIVE_INFINITY;
    const part = isLarge ? rowsOf(reduced, from / s, to / s) : reduced;
    sum += (meanDifference(full, part, s) * (to - from)) / height;
    if (isLarge) collect();
  }
  return sum;
}

function rowsOf({ pixels, channels, width }: Pixels, from: number, to: number): Pixels {
  const row = width * channels;
  return { pixels: pixels.subarray(from * row, to * row), channels, width, height: to - from };
}

/** A few pictures from all over a clip. */
export function sampleIndices({ names }: StillsSource): number[] {
  const last = names.length - 1;
  return [...new Set(Array.from({ length: samples }, (_, i) => Math.round((last * i) / (samples - 1))))];
}

/**
 * Mean absolute difference in luminance between a picture's s x s block means and its reduced decode, in grey levels;
 * Infinity when the sizes do not fit.
 */
export function meanDifference(full: Pixels, reduced: Pixels, s: number): number {
  if (reduced.width * s !== full.width || reduced.height * s !== full.height) return Number.POSITIVE_INFINITY;
  let sum = 0;
  for (let y = 0; y < reduced.height; y++) {
    for (let x = 0; x < reduced.width; x++) {
      let block = 0;
      for (let j = 0; j < s; j++) {
        for (let i = 0; i < s; i++) block += luminance(full, (y * s + j) * full.width + x * s + i);
      }
      sum += Math.abs(block / (s * s) - luminance(reduced, y * reduced.width + x));
    }
  }
  return sum / (reduced.width * reduced.height);
}

/** ITU-R BT.601 luma of the stored values. */
function luminance({ pixels, channels }: Pixels, at: number): number {
  if (channels === 1) return pixels[at]!;
  const i = at * 3;
  return 0.299 * pixels[i]! + 0.587 * pixels[i + 1]! + 0.114 * pixels[i + 2]!;
}
