import { type Polygon, rasterize } from '../../../../engine/mask.js';
import type { SiteResult } from '../../../../jobs/tune.js';
import { byBouts, dialsText, falseAnHour, plural } from '../../../../words/ratios.js';

/** The side of the raster that a share is counted on: to the whole percent. */
const SIDE = 200;

const ACROSS = ['left', 'middle', 'right'];
const DOWN = ['at the top', 'halfway up', 'at the bottom'];

/** How much of the picture a mask hides, and where most of it lies: '14 % of the picture, on the right at the bottom'. */
export function hiddenText(shapes: readonly Polygon[]): string {
  const masked = rasterize(shapes, SIDE, SIDE);
  let [count, x, y] = [0, 0, 0];
  masked.forEach((on, at) => {
    if (on === 0) return;
    count++;
    x += at % SIDE;
    y += Math.floor(at / SIDE);
  });
  const third = (sum: number) => Math.min(2, Math.floor((3 * (sum / Math.max(1, count) + 0.5)) / SIDE));
  const across = ACROSS[third(x)]!;
  const share = Math.max(1, Math.round((100 * count) / masked.length));
  return `${share} % of the picture, ${across === 'middle' ? 'in the middle' : `on the ${across}`} ${DOWN[third(y)]!}`;
}

/** What is given up and gained by a recommended mask, against the best dials without it. */
export function maskGain(
  { mask, recommended }: Pick<SiteResult, 'mask' | 'recommended'>,
  photosPerTrigger: number,
): string {
  if (!mask) return '';
  const { withoutIt } = mask;
  const caught = ({ score }: typeof withoutIt) => `${score.caught} of ${plural(score.visits, 'visit')}`;
  const falsely = ({ score, settings }: typeof withoutIt) =>
    `false triggers an hour ${falseAnHour(byBouts(score, settings), photosPerTrigger)}`;
  return `With it, the dials above catch ${caught(recommended)} on these clips; ${falsely(recommended)}. Without a mask the best dials (${dialsText(withoutIt.controls)}) catch ${caught(withoutIt)}; ${falsely(withoutIt)}. That it pays was tried on footage left out.`;
}
