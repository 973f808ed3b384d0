import type { Camera } from '../../camera/description.js';
import type { ReferenceModel } from '../../engine/reference.js';

/** What a reference does from a trigger until the camera is idle again. */
export type WhileBusy = Camera['reference']['whileBusy'];

/** What of a camera decides how much changes in a frame: one description that is tried. */
export interface Look {
  /** The analysis size. */
  width: number;
  height: number;
  smooth: number;
  reference: ReferenceModel;
  whileBusy: WhileBusy;
}

/** Tells looks apart. */
export function lookName({ width, height, smooth, reference, whileBusy }: Look): string {
  return [width, height, smooth, referenceName(reference), whileBusy].join(' ');
}

export function referenceName(reference: ReferenceModel): string {
  return reference.kind === 'previous' ? `previous ${reference.lag}` : `average ${reference.seconds}`;
}

/** References far enough apart to leave none out between them, for a start. */
export const coarseReferences: readonly ReferenceModel[] = [
  ...[1, 2, 3, 5, 10].map((lag) => ({ kind: 'previous' as const, lag })),
  ...[0.5, 1, 2, 4, 8, 20].map((seconds) => ({ kind: 'average' as const, seconds })),
];

/** Fewer, of those that stop while busy: each value of theirs is followed, so that one beside the right one comes nearly as near. */
export const stoppingReferences: readonly ReferenceModel[] = [
  ...[1, 3, 6].map((lag) => ({ kind: 'previous' as const, lag })),
  ...[1, 2.5, 6].map((seconds) => ({ kind: 'average' as const, seconds })),
];

/** References near enough to each other for one beside the right one to be told by what it explains. */
export const manyReferences: readonly ReferenceModel[] = [
  ...[1, 2, 3, 4, 5, 6, 7, 8, 10, 12].map((lag) => ({ kind: 'previous' as const, lag })),
  ...[0.5, 0.7, 1, 1.4, 2, 2.8, 4, 5.6, 8, 11, 15, 20].map((seconds) => ({
    kind: 'average' as const,
    seconds,
  })),
];

/** References around one, the nearer the later the round. */
export function referencesAround(reference: ReferenceModel, round: 0 | 1 | 2): ReferenceModel[] {
  if (reference.kind === 'average') {
    const ratios = [
      [0.7, 1.4],
      [0.85, 1.18],
      [0.93, 1.08],
    ][round]!;
    return ratios.map((ratio) => ({ kind: 'average', seconds: tidy(reference.seconds * ratio) }));
  }
  const { lag } = reference;
  const step = round === 0 ? Math.max(1, Math.round(lag / 4)) : 1;
  const lags = new Set([lag - step, lag + step].filter((one) => one >= 1));
  return [...lags].map((one) => ({ kind: 'previous', lag: one }));
}

function tidy(seconds: number): number {
  return Number(seconds.toPrecision(2));
}

/** Narrower frames tell nothing of small animals; wider ones no small board compares. */
const NARROWEST = 32;
const WIDEST = 640;
const MOST_HALVINGS = 3;

export interface Size {
  width: number;
  height: number;
}

/**
 * Analysis sizes worth trying of a clip, the largest first: its own and its halves, and what cameras commonly compare.
 * @param known what the owner says, tried first
 */
export function sizesFor({ width, height }: Size, known: Size | null): Size[] {
  const sizes: Size[] = [];
  const add = (size: Size) => {
    const isNew = sizes.every((other) => other.width !== size.width || other.height !== size.height);
    if (isNew && size.width >= NARROWEST && size.height >= 1) sizes.push(size);
  };
  if (known) add(known);
  const from = Math.min(width, WIDEST);
  for (let halving = 0; halving < MOST_HALVINGS; halving++) {
    const across = Math.round(from / 2 ** halving);
    add({ width: across, height: Math.round((across * height) / width) });
  }
  // A squeezed picture is still one that cameras compare.
  if (Math.abs(width / height - 4 / 3) > 0.01 && width >= 320) add({ width: 320, height: 240 });
  return sizes.sort((a, b) => b.width * b.height - a.width * a.height);
}

/** The size to begin with: about this wide, for it costs little and shows what moves. */
const BEGIN = 160;

export function firstSize(sizes: readonly Size[]): Size {
  return sizes.reduce((a, b) =>
    Math.abs(Math.log(b.width / BEGIN)) < Math.abs(Math.log(a.width / BEGIN)) ? b : a,
  );
}
