import { luminance } from '../engine/luminance.js';
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
 * average at that size; otherwise 1. It depends on the clip and the analysis size only, never on which frames are asked for.
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
  const finding =
    known.get(key) ?? find(source, size, { width: least.minWidth, height: least.minHeight }, by);
  known.set(key, finding);
  return finding;
}

/** What was found in this run, for one clip is read several times. */
const found = new WeakMap<StillsSource, Map<string, Promise<1 | 2 | 4 | 8>>>();

type Size = { width: number; height: number };

async function find(source: StillsSource, size: Size, least: Size, by: Decoder): Promise<1 | 2 | 4 | 8> {
  if (!by.reduced || !source.names.every((name) => formatOfName(name) === 'JPEG')) return 1;
  // Loader options stand in brackets after the file's name: a name with brackets of its own would be misread.
  if (/[[\]]/.test(source.folder) || source.names.some((name) => /[[\]]/.test(name))) return 1;
  const candidates = ([8, 4, 2] as const).filter(
    (s) =>
      size.width % s === 0 &&
      size.height % s === 0 &&
      size.width / s >= least.width &&
      size.height / s >= least.height,
  );
  for (const s of candidates) if (await fits(source, size, least, s, by)) return s;
  return 1;
}

async function fits(
  source: StillsSource,
  size: Size,
  least: Size,
  s: 2 | 4 | 8,
  by: Decoder,
): Promise<boolean> {
  for (const index of sampleIndices(source)) {
    // A broken picture is reported when its turn comes, by its own index.
    const difference = await differenceOf(source, size, index, least, s, by).catch(() => 0);
    if (!(difference <= mostDifference)) return false;
  }
  return true;
}

/** Of a large picture half the rows are compared at a time, where that cuts no pixel, which takes longer and less memory. */
async function differenceOf(
  source: StillsSource,
  { width, height }: Size,
  index: number,
  least: Size,
  s: 2 | 4 | 8,
  by: Decoder,
): Promise<number> {
  const isLarge = by.rows !== undefined && aheadFor(3 * width * height) === 0;
  const reduce = () => (by as Required<Decoder>).reduced(stillFile(source, index), s);
  const bands = isLarge ? halvesOf(height, least.height, s) : [{ from: 0, to: height }];
  let sum = 0;
  for (const { from, to } of bands) {
    const full = await decodeStill(source, index, by, bands.length > 1 ? { from, to } : undefined);
    const reduced = await withStills(source, reduce).catch(() => null);
    if (reduced?.width !== width / s || reduced.height !== height / s) return Number.POSITIVE_INFINITY;
    const share = (to - from) / height;
    const size = { width: least.width, height: Math.round(share * least.height) };
    sum += share * meanDifference(full, rowsOf(reduced, from / s, to / s), size);
    if (isLarge) collect();
  }
  return sum;
}

/** Rows cut in two, as near the middle as whole rows of all three sizes allow; one piece where none do. */
function halvesOf(height: number, least: number, s: number): { from: number; to: number }[] {
  const cuts = Array.from({ length: least - 1 }, (_, i) => ((i + 1) * height) / least);
  const whole = cuts.filter((cut) => Number.isInteger(cut / s));
  const [cut] = whole.sort((a, b) => Math.abs(a - height / 2) - Math.abs(b - height / 2));
  const at = cut ?? height;
  return [
    { from: 0, to: at },
    { from: at, to: height },
  ].filter(({ from, to }) => from < to);
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

/** Mean absolute difference between two pictures of the same, seen at some size as a camera sees them; grey levels. */
export function meanDifference(one: Pixels, other: Pixels, size: Size): number {
  const [a, b] = [one, other].map(({ pixels, channels, width, height }) =>
    luminance(pixels, channels, width, height, size.width, size.height),
  ) as [Uint8Array, Uint8Array];
  return a.reduce((sum, value, i) => sum + Math.abs(value - b[i]!), 0) / a.length;
}
