import { plural } from '../../../../words/wording.js';
import type { MaskingTold } from '../../../diagnosis-protocol.js';

/** 3 photos of nothing gone, 1 visit lost. */
export function inWords({ without, withIt }: MaskingTold, masked: boolean): string {
  if (!masked) return 'Nothing is masked yet.';
  const gone = without.score.falseTriggers - withIt.score.falseTriggers;
  const lost = without.visits.filter(({ caught: before }, i) => before && !withIt.visits[i]?.caught).length;
  const gained = without.visits.filter(({ caught: before }, i) => !before && withIt.visits[i]?.caught).length;
  if (gone === 0 && lost === 0 && gained === 0 && withIt.score.falseTriggers > 0) {
    return 'It changes nothing here: draw it over the marks of where it fired falsely.';
  }
  const photos = (n: number) => plural(n, 'photo of nothing', 'photos of nothing');
  return [
    gone >= 0 ? `${photos(gone)} gone` : `${photos(-gone)} more`,
    `${plural(lost, 'visit')} lost`,
    ...(gained > 0 ? [`${plural(gained, 'visit')} gained`] : []),
  ].join(', ');
}
