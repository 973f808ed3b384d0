import { timesText } from '../../../../words/score-wording.js';
import { plural } from '../../../../words/wording.js';
import type { MaskingTold } from '../../../diagnosis-protocol.js';
import { visitsChanged } from './visits-changed.js';

/**
 * Fires at nothing 3 times (6 photos) instead of 6, 1 visit lost.
 * @param photosPerTrigger how many photos the camera takes at each trigger
 */
export function inWords(told: MaskingTold, masked: boolean, photosPerTrigger: number): string {
  if (!masked) return 'Nothing is masked yet.';
  const { without, withIt } = told;
  const gone = without.score.falseTriggers - withIt.score.falseTriggers;
  const changed = visitsChanged(told);
  const [lost, gained] = [changed.lost.length, changed.gained.length];
  if (gone === 0 && lost === 0 && gained === 0 && withIt.score.falseTriggers > 0) {
    return 'It changes nothing here: draw it over the marks of where it fired falsely.';
  }
  const times = timesText(withIt.score.falseTriggers, photosPerTrigger);
  return [
    gone === 0
      ? 'fires at nothing as often'
      : `fires at nothing ${times} instead of ${without.score.falseTriggers}`,
    `${plural(lost, 'visit')} lost`,
    ...(gained > 0 ? [`${plural(gained, 'visit')} gained`] : []),
  ].join(', ');
}
