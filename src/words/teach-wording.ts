import { significant } from '../base/figures.js';
import type { Taught } from '../diagnose/diagnosis.js';
import { percentBetween, plural } from './wording.js';

const shipped = 'The causes told are those of the model as it came.';

/** What an owner's corrections taught of a site, and whether it is used. */
export function taughtText({
  site,
  triggers,
  told,
  bouts,
  needed,
  verdict,
  judged,
  changed,
}: Taught): string {
  const place = site === null ? '' : ` at the ${site}`;
  const what = `${told} of ${plural(triggers, 'false trigger')}${place}, in ${plural(bouts, 'bunch', 'bunches')}`;
  if (!judged) {
    return `Too little to tell whether your corrections help: labels.json tells the cause of ${what}; ${needed.told} in ${needed.bouts} bunches are needed. ${shipped}`;
  }
  const { how, right, logLoss } = judged;
  const { value, low, high } = logLoss.gained;
  const left = how === 'blocks of time' ? 'stretches of time that were left out' : 'clips that were left out';
  const did = `On ${left} it named the cause you told in ${percentBetween(right.taught)} instead of ${percentBetween(right.shipped)}; log loss ${signed(logLoss.taught)} instead of ${signed(logLoss.shipped)}, less by ${signed(value)} (${signed(low)} to ${signed(high)})`;
  return verdict === 'better'
    ? `Your corrections help: it learnt from ${what}. ${did}. So what was learnt is used: ${plural(changed, 'trigger')} ${changed === 1 ? 'has' : 'have'} another cause now. This was measured on what you told alone: tell it of causes that were right as well.`
    : `Your corrections did not help yet: it learnt from ${what}. ${did}; that may be chance. So it is not used. ${shipped}`;
}

function signed(x: number): string {
  return x < 0 ? `-${significant(-x, 2)}` : significant(x, 2);
}
