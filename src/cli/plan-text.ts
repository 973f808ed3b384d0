import type { PlanResult, SitePlan } from '../jobs/plan.js';
import {
  allowanceText,
  darknessText,
  inAllText,
  noDarknessText,
  planAdvice,
  planHeadline,
  plannedName,
  planRests,
  rateOrDash,
  shareOrDash,
  spanText,
  turnsOf,
  walksText,
  weatherNamed,
} from '../words/plan-wording.js';
import { plural } from '../words/wording.js';
import { fold, item, strong, tableOrLists } from './terminal.js';

/** Room for the moment of a walk. */
const MOMENT = 18;
/** Moments that are listed; the calendar and the report have all. */
const MOST_TURNS = 8;

/** The plan for people: the answer of each site first, then what to expect in which weather, then what it rests on. */
export function planText(plan: PlanResult): string {
  const { sites } = plan;
  const several = sites.length > 1;
  return [
    `${spanText(plan)}, ${plan.hours} hours`,
    ...sites.flatMap((site) => siteText(site, plan, several)),
    fold(planRests(plan)),
  ].join('\n\n');
}

function siteText(site: SitePlan, plan: PlanResult, several: boolean): string[] {
  const name = several ? `${plannedName(site)}: ` : '';
  const advice = planAdvice(site);
  const dark = noDarknessText(site);
  const head = [strong(fold(`${name}${planHeadline(site)}`)), fold(walksText(site, plan))];
  const turns = advice === 'change' ? turnsOf(site) : [];
  const more = turns.length - MOST_TURNS;
  const walks = [
    ...turns.slice(0, MOST_TURNS).map(([moment, dials]) => item(moment, dials, MOMENT)),
    ...(more > 0
      ? [item('', `and ${plural(more, 'more walk', 'more walks')}: see --calendar and --report`, MOMENT)]
      : []),
  ];
  const rows = site.conditions.map((kind) => [
    weatherNamed(kind),
    String(kind.hours),
    shareOrDash(kind.recall),
    rateOrDash(kind.falsePerHour),
    kind.source ?? '',
  ]);
  return [
    ...(dark === null ? [] : [fold(`${name}${dark}`)]),
    [...head, ...walks].join('\n'),
    [
      tableOrLists(['', 'hours', 'visits caught', 'false an hour', ''], rows),
      fold(inAllText(site)),
      fold(allowanceText(site)),
      fold(darknessText(site)),
      ...site.notes.map((note) => fold(note)),
    ]
      .filter((part) => part !== '')
      .join('\n'),
  ];
}
