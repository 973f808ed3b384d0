import type { SiteResult } from '../jobs/tune.js';
import { alike, differing } from '../words/answer.js';
import { chosenName } from '../words/choices.js';
import { explainLimit } from '../words/explain-limit.js';
import { explainSimulated, explainWeather, isUntried, UNTRIED_WIND } from '../words/explain-weather.js';
import { byBouts, dialsText, plural, rate } from '../words/ratios.js';
import { strengthName } from '../words/strength-name.js';
import { fold, item, strong, table } from './terminal.js';

/** Room for the name of a kind of weather. */
const NAME = 16;

/** What would be best in each kind of weather: recorded and simulated never share a table. */
export function weatherOf(site: SiteResult): string[] {
  const { byCondition, recommended } = site;
  const recorded = byCondition.filter(({ source, choice }) => source === 'recorded' && choice);
  const simulated = byCondition.filter(({ source }) => source === 'simulated');
  const told: string[] = [];
  if (recorded.length > 1) {
    const groups = recorded.map(({ choice }) => choice?.controls ?? {});
    const { differ } = alike([recommended.controls, ...groups]);
    const asChosen = `as ${chosenName(site)}`;
    const rows = recorded.map(({ condition, clips, choice }) => [
      `${condition}, ${plural(clips.length, 'clip')}`,
      choice ? `${choice.score.caught} of ${choice.score.visits}` : '-',
      choice ? rate(byBouts(choice.score, choice.settings)) : '-',
    ]);
    const dials = recorded.map(({ condition }, i) =>
      item(condition, differing(groups[i]!, differ, asChosen), NAME),
    );
    told.push(
      [
        strong('Best for each kind of weather, as recorded'),
        table(['weather', 'visits caught', 'false an hour'], rows),
        ...dials,
        ...explainWeather(site).map((sentence) => fold(sentence)),
      ].join('\n'),
    );
  }
  if (simulated.length > 0) {
    const rows = simulated.flatMap(({ condition, choice, strengths = [] }) =>
      strengths.map(({ strength, score }) => [
        strengthName(condition, strength),
        score.visits === 0 ? '-' : `${score.caught} of ${score.visits}`,
        rate(byBouts(score, (choice ?? recommended).settings)),
      ]),
    );
    const dials = simulated.flatMap((group) =>
      group.choice
        ? [item(group.condition, dialsText(group.choice.controls), NAME)]
        : isUntried(group, site)
          ? [item(group.condition, UNTRIED_WIND, NAME)]
          : [],
    );
    const body = [
      // Simulated clips that were given have no strengths that were tried.
      ...(rows.length > 0 ? [table(['weather', 'visits caught', 'false an hour, 90 %'], rows)] : []),
      ...dials,
      ...explainSimulated(site).map((sentence) => fold(sentence)),
    ];
    if (body.length > 0)
      told.push([strong('Simulated, for weather that nobody recorded'), ...body].join('\n'));
  }
  const limit = explainLimit(site);
  if (limit.length > 0) {
    told.push([strong('How dark it may get'), ...limit.map((sentence) => fold(sentence))].join('\n'));
  }
  return told;
}
