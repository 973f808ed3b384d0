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
  const wholes = new Map<number, Promise<Uint8Array>>();
  const wholeAt = (index: number) => {
    const whole = wholes.get(index) ?? wholeStill(source, size, index, least, by);
    wholes.set(index, whole);
    return whole;
  };
  for (const s of candidates) if (await fits(source, size, least, s, by, wholeAt)) return s;
  return 1;
}

/** @param wholeAt gives a still as `wholeStill` does: it is decoded once, whatever is held against it */
async function fits(
  source: StillsSource,
  size: Size,
  least: Size,
  s: 2 | 4 | 8,
  by: Decoder,
  wholeAt: (index: number) => Promise<Uint8Array>,
): Promise<boolean> {
  for (const index of sampleIndices(source)) {
    // A broken picture is reported when its turn comes, by its own index.
    const difference = await differenceOf(source, size, index, least, s, by, wholeAt).catch(() => 0);
    if (!(difference <= mostDifference)) return false;
  }
  return true;
}

async function differenceOf(
  source: StillsSource,
  { width, height }: Size,
  index: number,
  least: Size,
  s: 2 | 4 | 8,
  by: Decoder,
  wholeAt: (index: number) => Promise<Uint8Array>,
): Promise<number> {
  const whole = await wholeAt(index);
  const reduce = () => (by as Required<Decoder>).reduced(stillFile(source, index), s);
  const reduced = await withStills(source, reduce).catch(() => null);
  if (reduced?.width !== width / s || reduced.height !== height / s) return Number.POSITIVE_INFINITY;
  const difference = meanOfDifferences(whole, seenAt(reduced, least));
  if (isLarge({ width, height }, by)) collect();
  return difference;
}

/**
 * A still at the analysis size, decoded at its full size. Of a large one half the rows are decoded at a time, where that cuts no
 * pixel, which takes longer and less memory.
 */
async function wholeStill(
  source: StillsSource,
  size: Size,
  index: number,
  least: Size,
  by: Decoder,
): Promise<Uint8Array> {
  if (!isLarge(size, by)) return seenAt(await decodeStill(source, index, by), least);
  const whole = new Uint8Array(least.width * least.height);
  let row = 0;
  for (const { from, to } of halvesOf(size.height, least.height)) {
    const height = Math.round(((to - from) * least.height) / size.height);
    const part = seenAt(await decodeStill(source, index, by, { from, to }), { width: least.width, height });
    whole.set(part, row * least.width);
    row += height;
    collect();
  }
  return whole;
}

function isLarge({ width, height }: Size, by: Decoder): boolean {
  return by.rows !== undefined && aheadFor(3 * width * height) === 0;
}

/** Rows cut in two, as near the middle as whole rows of both sizes allow; one piece where none do. */
function halvesOf(height: number, least: number): { from: number; to: number }[] {
  const cuts = Array.from({ length: least - 1 }, (_, i) => ((i + 1) * height) / least);
  const whole = cuts.filter((cut) => Number.isInteger(cut));
  const [cut] = whole.sort((a, b) => Math.abs(a - height / 2) - Math.abs(b - height / 2));
  const at = cut ?? height;
  return [
    { from: 0, to: at },
    { from: at, to: height },
  ].filter(({ from, to }) => from < to);
}

/** A few pictures from all over a clip. */
export function sampleIndices({ names }: StillsSource): number[] {
  const last = names.length - 1;
  return [...new Set(Array.from({ length: samples }, (_, i) => Math.round((last * i) / (samples - 1))))];
}

/** Mean absolute difference between two pictures of the same, seen at some size as a camera sees them; grey levels. */
export function meanDifference(one: Pixels, other: Pixels, size: Size): number {
  return meanOfDifferences(seenAt(one, size), seenAt(other, size));
}

function seenAt({ pixels, channels, width, height }: Pixels, size: Size): Uint8Array {
  return luminance(pixels, channels, width, height, size.width, size.height);
}

function meanOfDifferences(a: Uint8Array, b: Uint8Array): number {
  return a.reduce((sum, value, i) => sum + Math.abs(value - b[i]!), 0) / a.length;
}
