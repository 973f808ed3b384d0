import { hoursIn, type Outing } from '../../outing/evening/hours-out.js';
import { hoursToTell } from '../../outing/evening/hours-to-tell.js';
import { recordNext } from '../../outing/evening/next.js';
import {
  byConditions,
  nothingIn,
  type Part,
  partsByHour,
  partsByStretch,
  partTold,
  unmarkedIn,
} from '../../outing/evening/parts.js';
import { type PromisedPart, promisedPerHour } from '../../outing/evening/promise.js';
import { tallyOf } from '../../outing/evening/tally.js';
import { isTooWide, nothingRate, type Verdict, verdictWith } from '../../outing/evening/verdict.js';
import { BOUT, boutsOf } from '../../score/bouts.js';
import { scatterOfBouts } from '../../score/by-bouts.js';
import type { Held } from './held.js';
import type { Timed } from './hours.js';
import type { ConditionTold, EveningResult, PromiseTold, SeenPhoto } from './result.js';

type Told = Pick<
  EveningResult,
  'nothingPerHour' | 'byHour' | 'byStretch' | 'byCondition' | 'promised' | 'verdict' | 'next'
>;

/** What came, by hour, by stretch and by weather, and what was promised for it. */
export function toldOf(
  outing: Outing<Timed> | null,
  within: readonly SeenPhoto[],
  promised: Held | null,
): Told {
  const stretches = promised?.stretches ?? [];
  const hours = outing ? partsByHour(outing, promised?.kind === 'tune' ? stretches : []) : [];
  const isPlaced = promised?.kind === 'plan' && promised.withheld !== 'clock not known';
  const planned = outing && isPlaced ? partsByStretch(outing, stretches) : null;
  const parts: readonly Part[] = planned ?? hours;
  const byHour = hours.map(partTold);
  const byStretch = planned?.map(partTold) ?? null;
  return {
    nothingPerHour: outing && nothingRate(nothingIn(outing), hoursIn(outing.counting), unmarkedIn(outing)),
    byHour,
    byStretch,
    byCondition: planned && byConditions(planned).map(conditionTold),
    ...(promised ? judged(promised, parts, within) : { promised: null, verdict: null }),
    next: parts.length > 1 ? recordNext(byStretch ?? byHour) : null,
  };
}

function conditionTold({ conditions, part }: { conditions: string; part: Part }): ConditionTold {
  const { hours, photos } = part;
  return {
    conditions,
    hours,
    ...tallyOf(photos),
    nothingPerHour: nothingRate(nothingIn(part), hours, unmarkedIn(part)),
  };
}

function judged(
  { kind, site, withheld, photosPerTrigger }: Held,
  parts: readonly Part[],
  within: readonly SeenPhoto[],
): { promised: PromiseTold; verdict: Verdict | null } {
  const with_ = parts.filter((part): part is Part & { promised: PromisedPart } => part.promised !== null);
  const promises = with_.map((part) => part.promised);
  // Where a photo's time is not known it may belong to these hours, and stand alone there.
  const astray = within.filter(({ time, seen }) => time === null && (seen === null || seen === 'nothing'));
  const alone = astray.map((_, i) => -2 * BOUT * (i + 1));
  const came = with_.map((part, i) => ({
    times: nothingIn(part),
    untold: [...unmarkedIn(part), ...(i === 0 ? alone : [])],
    promised: part.promised,
  }));
  const nothing = came.flatMap(({ times }) => times).sort((a, b) => a - b);
  const untold = came.flatMap((part) => part.untold);
  const sum = (of: readonly Part[]) => of.reduce((total, { hours }) => total + hours, 0);
  const hours = sum(with_);
  const perHour = promisedPerHour(promises);
  // Tuning promises a rate all in all, a plan one for each stretch.
  const verdict = verdictWith(
    kind === 'plan'
      ? came
      : came.length === 0
        ? []
        : [{ times: nothing, untold, promised: { hours, perHour: promises[0]!.perHour } }],
  );
  const isBroken = verdict === 'worse' || verdict === 'better';
  const why = withheld ?? (perHour !== null && !isBroken && isTooWide(perHour) ? 'promise too wide' : null);
  const open = why === null && verdict === 'too little to tell' && untold.length === 0 && perHour !== null;
  return {
    promised: {
      kind,
      site,
      withheld: why,
      photosPerTrigger,
      nothingPerHour: perHour,
      hoursToTell: open ? hoursToTell(perHour, scatterOfBouts(nothing.length, boutsOf(nothing))) : null,
      untold: untold.length,
      came: nothingRate(nothing, hours, untold),
      hours,
      hoursWithout: Math.max(0, sum(parts) - hours),
    },
    verdict: why === null ? verdict : null,
  };
}
