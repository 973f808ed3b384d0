import type { Decoder, Pixels } from './decode.js';
import { formatOfName } from './formats.js';
import { decodeStill, type StillsSource, stillFile, withStills } from './stills.js';

/** Grey levels. The contract allows 1 on average; pictures between the samples may be somewhat worse. */
const mostDifference = 0.75;
const samples = 3;

/**
 * By how much a clip's JPEGs may be reduced while they are decoded: the largest of 8, 4, 2 that divides the size, does
 * not go below the analysis size, and keeps a few pictures from all over the clip within a grey level of the area
 * average; otherwise 1. It depends on the clip and the analysis size only, never on which frames are asked for.
 */
export async function reductionFor(
  source: StillsSource,
  size: { width: number; height: number },
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
  if (candidates.length === 0) return 1;
  const last = source.names.length - 1;
  const indices = [
    ...new Set(Array.from({ length: samples }, (_, i) => Math.round((last * i) / (samples - 1)))),
  ];
  let fitting = candidates;
  for (const index of indices) {
    const full = await decodeStill(source, index, by).catch(() => null);
    // A broken picture is reported when its turn comes, by its own index.
    if (!full) continue;
    const good: (2 | 4 | 8)[] = [];
    for (const s of fitting) {
      const reduce = async () => by.reduced?.(stillFile(source, index), s) ?? null;
      const reduced = await withStills(source, reduce).catch(() => null);
      if (reduced && meanDifference(full, reduced, s) <= mostDifference) good.push(s);
    }
    fitting = good;
  }
  return fitting[0] ?? 1;
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
