import type { Clip } from '../../clip/open.js';
import type { Clock } from '../fired/clock.js';
import type { Told } from '../fired/told.js';
import { wantedBy } from '../fired/wanted.js';
import { type Agreement, agreementOf, type Moment, momentsOf, type Tolerance } from '../score/agreement.js';
import { slackFor, type Values } from '../score/scores.js';
import { type Look, lookName } from '../search/look.js';
import { predictedBy, type Searched, type Tried } from '../search/tried.js';
import { triedText } from '../search/trying.js';
import { asGoodAs, asGoodUnder, type EquallyGood } from './as-good.js';
import type { Finalist } from './finalist.js';
import { heldOut } from './held-out.js';
import { pinDown } from './pinned.js';
import { pinStopped } from './stopped.js';
import { withMiddle } from './to-their-ends.js';
import { limitOf } from './upper-limit.js';

/** What explains the told times. */
export interface Explained {
  look: Look;
  rate: number;
  values: Values;
  /** Pixels of all that changed above which it does not fire; null: no limit is asked for. */
  mostChanged: number | null;
  clock: Clock;
  tolerance: Tolerance;
  agreement: Agreement;
  moments: Moment[];
  /** Told times on the clip, by its clock, rising. */
  fired: Float64Array;
  /** Best first; the one chosen is within the first. */
  equallyGood: EquallyGood[];
  /** F1 over the last third when all but its look and rate is chosen by the rest, as in heldOut. */
  heldOut: number | null;
}

/** Descriptions that are looked at closely; of each way of being busy the best at least. */
const FINALISTS = 8;
const EACH_WAY = 2;
/** Chooses among what a search found, and tells what does as well. */
export async function explain(clip: Clip, told: Told, searched: Searched): Promise<Explained | null> {
  const { looking, reckoning, tolerance } = searched;
  const [first] = searched.tried;
  if (!first) return null;
  const whole = [0, clip.seconds] as const;
  const wantedOf = ({ clock }: Pick<Tried, 'clock'>) => wantedBy(told, clock, tolerance, whole);
  const slack = slackFor(wantedOf(first).fired.length);
  const finalists: Finalist[] = [];
  reckoning.begin('choosing');
  for (const one of finalistsOf(searched.tried, first.best.own)) {
    reckoning.trying(`looking closely at ${triedText([one.look])}`);
    const wanted = wantedOf(one);
    if (one.look.whileBusy === 'continues') {
      for (const pinned of await pinDown(one, searched, wanted, slack)) {
        finalists.push({ ...pinned, closed: null, alike: [], isCut: false });
      }
    } else {
      const followed = await pinStopped(one, searched, wantedOf);
      if (followed) finalists.push(followed);
    }
    reckoning.held();
  }
  const most = finalists.reduce((so, { best: { own } }) => Math.max(so, own), 0);
  const near = finalists.filter(({ best: { own } }) => own >= most - CHOSEN_WITHIN * slack);
  const held: Finalist[] = [];
  for (const one of near) held.push(one.closed ? one : await withMiddle(one, searched, wantedOf(one)));
  held.sort((a, b) => b.worth - a.worth);
  const [best] = held;
  if (!best) return null;
  const wanted = wantedOf(best);
  const { values } = best.best;
  const limit = best.closed ? null : await limitOf(best.source, values, looking.times, wanted);
  const predicted =
    limit?.predicted ?? best.closed?.predicted ?? (await predictedBy(best, values, looking.times));
  const agreement = agreementOf(wanted.fired, predicted, tolerance);
  const good = await asGoodAs(best, held, searched, wantedOf, slack);
  return {
    look: best.look,
    rate: looking.rate,
    values,
    mostChanged: limit?.mostChanged ?? null,
    clock: best.clock,
    tolerance,
    agreement,
    moments: momentsOf(wanted.fired, predicted, tolerance),
    fired: wanted.fired,
    equallyGood: limit ? await asGoodUnder(limit, agreement.f1, good, held, searched, wantedOf) : good,
    heldOut: await heldOut(clip, told, held, searched),
  };
}

/** Times the slack within which closeness is as good as the best: what explains less than the best by more is not chosen, however likely it is. */
const CHOSEN_WITHIN = 12;
/** Of closeness: what stops while busy and lies farther below the best is not followed once more. */
const OUT_OF_REACH = 0.15;

/** The best of the descriptions, each once however it was followed, and some of each way of being busy that comes near. */
function finalistsOf(tried: readonly Tried[], most: number): Tried[] {
  const names = new Map<string, Tried>();
  for (const one of tried) if (!names.has(lookName(one.look))) names.set(lookName(one.look), one);
  const each = [...names.values()];
  const isNear = ({ look, best: { own } }: Tried) =>
    look.whileBusy === 'continues' || own >= most - OUT_OF_REACH;
  const ways = (['continues', 'frozen', 'restarts'] as const).flatMap((way) =>
    each.filter(({ look }) => look.whileBusy === way).slice(0, EACH_WAY),
  );
  return [...new Set([...each.slice(0, FINALISTS), ...ways])].filter(isNear);
}
