import { significant } from '../base/figures.js';
import type { Camera } from '../camera/description.js';
import type { EquallyGood } from '../fit/explained.js';

const busyWords: Record<Camera['reference']['whileBusy'], string> = {
  continues: '',
  frozen: ', which stands still while it is busy',
  restarts: ', which starts anew after it was busy',
};

/** What a camera compares a frame with. */
export function referenceText(reference: Camera['reference']): string {
  const what =
    reference.kind === 'average'
      ? `an average over ${significant(reference.seconds, 3)} s`
      : reference.lag === 1
        ? 'the frame before'
        : `the frame ${reference.lag} frames back`;
  return `${what}${busyWords[reference.whileBusy]}`;
}

export function areaText(area: Camera['area']): string {
  return area === 'region' ? 'the largest connected region' : 'all changed pixels';
}

/** A description that does as well as the best, with the values that do. */
export function equallyGoodText({
  look,
  area,
  threshold,
  minimumArea,
  persistence,
  cooldown,
  f1,
}: EquallyGood): string {
  const { width, height, smooth, reference, whileBusy } = look;
  const span = ({ from, to }: { from: number; to: number }) =>
    from === to ? significant(from, 4) : `${significant(from, 4)} to ${significant(to, 4)}`;
  return `${referenceText({ ...reference, whileBusy })}; ${width} x ${height} smoothed by ${smooth}; ${areaText(area)}; threshold ${span(threshold)}, minimumArea ${span(minimumArea)}, persistence ${span(persistence)}, cooldown ${span(cooldown)} (F1 ${f1.toFixed(3)})`;
}
