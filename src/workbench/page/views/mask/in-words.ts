import { plural } from '../../../../words/wording.js';
import type { MaskingTold } from '../../../diagnosis-protocol.js';

/** 3 false triggers gone, 1 visit lost: a trigger may take several photos. */
export function inWords({ without, withIt }: MaskingTold, masked: boolean): string {
  if (!masked) return 'Nothing is masked yet.';
  const gone = without.score.falseTriggers - withIt.score.falseTriggers;
  const lost = without.visits.filter(({ caught: before }, i) => before && !withIt.visits[i]?.caught).length;
  const gained = without.visits.filter(({ caught: before }, i) => !before && withIt.visits[i]?.caught).length;
  if (gone === 0 && lost === 0 && gained === 0 && withIt.score.falseTriggers > 0) {
    return 'It changes nothing here: draw it over the marks of where it fired falsely.';
  }
  const times = (n: number) => plural(n, 'false trigger');
  return [
    gone >= 0 ? `${times(gone)} gone` : `${times(-gone)} more`,
    `${plural(lost, 'visit')} lost`,
    ...(gained > 0 ? [`${plural(gained, 'visit')} gained`] : []),
  ].join(', ');
}
