import seedrandom from 'seedrandom';
import type { Hidden } from './hidden.js';

/** What hidden cameras are drawn of, in turn. */
const KINDS = [
  { kind: 'previous', whileBusy: 'continues' },
  { kind: 'average', whileBusy: 'continues' },
  { kind: 'previous', whileBusy: 'continues' },
  { kind: 'average', whileBusy: 'continues' },
  { kind: 'average', whileBusy: 'frozen' },
  { kind: 'previous', whileBusy: 'restarts' },
] as const;

/** Cameras drawn by chance, of which nothing is known when the search is written: to judge it by, once. */
export function drawnCameras(seed: string, count: number): Hidden[] {
  const random = seedrandom(`cameras of ${seed}`);
  const oneOf = <T>(all: readonly T[]) => all[Math.floor(random() * all.length)]!;
  const between = (low: number, high: number) => low + random() * (high - low);
  return Array.from({ length: count }, (_, i): Hidden => {
    const { kind, whileBusy } = KINDS[i % KINDS.length]!;
    const area = oneOf(['region', 'changed'] as const);
    return {
      name: `drawn ${i + 1}`,
      width: 160,
      height: 120,
      smooth: oneOf([0, 1, 2]),
      reference:
        kind === 'previous'
          ? { kind, lag: oneOf([1, 2, 3, 4, 6]) }
          : { kind, seconds: Number(Math.exp(between(Math.log(0.8), Math.log(10))).toPrecision(2)) },
      whileBusy,
      area,
      threshold: Math.round(between(13, 28)),
      minimumArea: Math.round(area === 'region' ? between(22, 55) : between(45, 110)),
      persistence: oneOf([1, 1, 2, 2, 3]),
      cooldown: oneOf([2, 3, 4, 5, 6, 8]),
    };
  });
}
