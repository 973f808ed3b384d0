import type { Camera } from '../camera/description.js';
import type { Clip } from '../clip/open.js';
import type { DialsPlanned, PlanResult, SitePlan } from '../jobs/plan.js';
import type { OpenPorts } from '../jobs/ports.js';
import { clockText, dayText, parseInstant } from '../plan/instant.js';
import { dialsShown } from '../words/dials-shown.js';
import {
  darknessText,
  noDarknessText,
  planAdvice,
  plannedName,
  roughly,
  shareOrDash,
  spanText,
} from '../words/plan-wording.js';
import type { WeatherRow } from '../words/weather-rows.js';
import { plural } from '../words/wording.js';
import { cardHtml } from './card.js';
import { maskOf } from './card-of.js';

/** Rows that a page of A5 has room for. */
const MOST_ROWS = 8;

/** What is set when at a site, first what to begin with; one row where one setting is left in place. */
export function settingsInTurn(site: SitePlan): { at: string | null; dials: DialsPlanned }[] {
  const { one, changing } = site.week;
  if (planAdvice(site) !== 'change') return [{ at: null, dials: one }];
  return [
    { at: null, dials: changing.first },
    ...changing.changes.map(({ at, settings, controls }) => ({ at, dials: { settings, controls } })),
  ];
}

/**
 * The card of one site for these days: the dials from each walk on, what to expect, the mask.
 * @param clips opened; those of the site are found among them
 * @throws whatever reading the clips throws
 */
export async function planCardOf(
  site: SitePlan,
  plan: PlanResult,
  clips: readonly Clip[],
  camera: Camera,
  ports: Pick<OpenPorts, 'onPhase'>,
): Promise<string> {
  const own = clips.filter(({ dir }) => site.clips.includes(dir));
  ports.onPhase(`${plannedName(site)}: drawing the card`);
  const turns = settingsInTurn(site);
  const told = turns.length > 1 ? site.week.changing : site.week.one;
  const more = turns.length - MOST_ROWS;
  const darkness = noDarknessText(site) ?? darknessText(site);
  return cardHtml({
    site: plannedName(site),
    camera: camera.name,
    rows: rowsOf(turns.slice(0, MOST_ROWS), camera),
    advice:
      turns.length > 1
        ? `${spanText(plan)}: turn the dark dials at the times named.${more > 0 ? ` ${plural(more, 'more walk', 'more walks')} are in the calendar and the report.` : ''}`
        : `${spanText(plan)}: leave it like this.`,
    expected: {
      heading: 'Expect in these days',
      lines: [
        ['visits caught', shareOrDash(told.recall)],
        ['photos of nothing', roughly(told.photosOfNothing)],
      ],
      note: `Over ${plural(site.hours.ofUse, 'hour')} of use of which something is known; in brackets 90 %.`,
    },
    mask: await maskOf(turns[0]!.dials.settings, own),
    caution: `${site.tells === 'hint' ? 'A hint only: it rests' : 'It rests'} on ${plural(site.visits, 'visit')} and on the forecast; plan again when that changes.`,
    limit: darkness === '' ? null : darkness,
  });
}

function rowsOf(turns: readonly { at: string | null; dials: DialsPlanned }[], camera: Camera): WeatherRow[] {
  return turns.map(({ at, dials }, t) => {
    const before = t === 0 ? null : dialsShown(camera, turns[t - 1]!.dials.settings);
    return {
      weather: at === null ? 'at the start' : dayText(parseInstant(at, '')),
      when: at === null ? '' : clockText(parseInstant(at, '')),
      note: null,
      dials: dialsShown(camera, dials.settings).map((dial, d) => ({
        ...dial,
        turned: before === null || before[d]!.chosen !== dial.chosen,
      })),
    };
  });
}
