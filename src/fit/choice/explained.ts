import type { Clip } from '../../clip/open.js';
import type { Clock } from '../fired/clock.js';
import type { Told } from '../fired/told.js';
import { type Wanted, wantedBy } from '../fired/wanted.js';
import { type Agreement, agreementOf, type Moment, momentsOf, type Tolerance } from '../score/agreement.js';
import { slackFor, type Values, weightOf } from '../score/scores.js';
import { type Closed, closedLoop, valuesAround } from '../search/closed.js';
import { type Look, lookName } from '../search/look.js';
import { type Course, predictedBy, priceOf, type Tried } from '../search/tried.js';
import { triedText } from '../search/trying.js';
import { asGoodAs, asGoodUnder, type EquallyGood } from './as-good.js';
import type { Finalist } from './finalist.js';
import { heldOut } from './held-out.js';
import { pinDown } from './pinned.js';
import { middleOfAll } from './to-their-ends.js';
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
export async function explain(clip: Clip, told: Told, course: Course): Promise<Explained | null> {
  const { looking, reckoning, tolerance } = course;
  const [first] = course.tried;
  if (!first) return null;
  const whole = [0, clip.seconds] as const;
  const wantedOf = ({ clock }: Pick<Tried, 'clock'>) => wantedBy(told, clock, tolerance, whole);
  const slack = slackFor(wantedOf(first).fired.length);
  const finalists: Finalist[] = [];
  reckoning.begin('choosing');
  for (const one of finalistsOf(course.tried, first.best.own)) {
    reckoning.trying(`looking closely at ${triedText([one.look])}`);
    for (const pinned of await pinDown(one, course, wantedOf(one), slack)) {
      finalists.push({
        ...pinned,
        worth: pinned.worth - priceOf(one.look, slack),
        closed: null,
        alike: [],
        isCut: false,
      });
    }
    reckoning.held();
  }
  await replayClosed(finalists, course, wantedOf, slack);
  const held = finalists.sort((a, b) => b.worth - a.worth);
  const [best] = held;
  if (!best) return null;
  const wanted = wantedOf(best);
  if (!best.closed) Object.assign(best, await middleOfAll(best, course, wanted));
  const { values } = best.best;
  const limit = best.closed ? null : await limitOf(best.source, values, looking.times, wanted);
  const predicted =
    limit?.predicted ?? best.closed?.predicted ?? (await predictedBy(best, values, looking.times));
  const agreement = agreementOf(wanted.fired, predicted, tolerance);
  const good = await asGoodAs(best, held, course, wantedOf, slack);
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
    equallyGood: limit ? await asGoodUnder(limit, agreement.f1, good, held, course, wantedOf) : good,
    heldOut: await heldOut(clip, told, held, course),
  };
}

/** Of closeness: what stops while busy and lies farther below the best is not replayed, for following it by the told times flatters it. */
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

/** What is followed by the told times may fire otherwise by itself: the values that really do best take the place of those. */
async function replayClosed(
  finalists: Finalist[],
  course: Course,
  wantedOf: (one: Tried) => Wanted,
  slack: number,
): Promise<void> {
  const { reckoning } = course;
  for (const finalist of finalists) {
    if (finalist.look.whileBusy === 'continues') continue;
    const wanted = wantedOf(finalist);
    const tried: Closed[] = [];
    reckoning.trying(`firing as ${triedText([finalist.look])} would by itself`);
    let { values } = finalist.best;
    for (let round = 0; round < 2; round++) {
      const known = tried.map((one) => one.values);
      const around = valuesAround(values, course.cooldowns, known);
      if (around.length === 0) break;
      const onFrame = () => reckoning.compared(1, finalist.look, around.length);
      tried.push(...(await closedLoop(course, finalist, around, wanted, onFrame)));
      values = bestOf(tried).values;
      if (bestOf(tried).close >= 1 - slack) break;
    }
    const closed = middleOf(tried, wanted.fired.length);
    finalist.alike = alikeOf(tried, wanted.fired.length);
    finalist.isCut = isCut(finalist.alike, tried);
    finalist.worth -= Math.max(finalist.best.most, finalist.best.own) - closed.close;
    finalist.closed = closed;
    finalist.best = { ...finalist.best, values: closed.values, own: closed.close, most: closed.close };
  }
}

/** Of those as good as the best the one nearest to the middle of their weight. */
function middleOf(tried: readonly Closed[], fired: number): Closed {
  const most = bestOf(tried).close;
  const good = alikeOf(tried, fired);
  const at = ({ values: { level, area, cooldown } }: Closed) => [
    Math.log(level),
    Math.log(area),
    Math.log1p(cooldown),
  ];
  const weights = tried.map(({ close }) => weightOf(close, most, fired));
  const all = weights.reduce((sum, weight) => sum + weight, 0);
  const middle = [0, 1, 2].map(
    (axis) => tried.reduce((sum, one, i) => sum + weights[i]! * at(one)[axis]!, 0) / all,
  );
  const distance = (one: Closed) => at(one).reduce((sum, x, axis) => sum + (x - middle[axis]!) ** 2, 0);
  return good.reduce((a, b) => (distance(b) < distance(a) ? b : a));
}

function alikeOf(tried: readonly Closed[], fired: number): Closed[] {
  const most = bestOf(tried).close;
  return tried.filter(({ close }) => close >= most - slackFor(fired));
}

/** Whether what comes as near has the least or the largest threshold or area of all that were replayed. */
function isCut(alike: readonly Closed[], tried: readonly Closed[]): boolean {
  const ends = (of: (values: Values) => number) => {
    const all = tried.map(({ values }) => of(values));
    const [least, largest] = [Math.min(...all), Math.max(...all)];
    return alike.some(({ values }) => of(values) === least || of(values) === largest);
  };
  return ends(({ level }) => level) || ends(({ area }) => area);
}

/** The first of the closest. */
function bestOf(tried: readonly Closed[]): Closed {
  return tried.reduce((a, b) => (b.close > a.close + 1e-9 ? b : a));
}
