import { type Camera, keepsEvidence } from '../camera/description.js';
import type { SiteResult, TuneResult } from '../jobs/tune.js';
import { poissonRate, wilson } from '../score/intervals.js';
import {
  alike,
  differing,
  goalText,
  headline,
  nowText,
  sensibleChoices,
  siteName,
  whatToRecord,
  withMask,
} from '../words/answer.js';
import { controlsOf } from '../words/controls.js';
import { explain } from '../words/explain.js';
import { assumptionsOf, explainSimulated, explainWeather, strengthName } from '../words/explain-weather.js';
import { luckOfSite } from '../words/luck.js';
import { dialsText, figure, plural, rate, share } from '../words/ratios.js';
import { faint, fold, item, strong, table } from './terminal.js';

/** Room for the name of a site or a kind of weather. */
const NAME = 16;

/** What tuning found, for people: the answer first, then what it rests on; all of it is in the report. */
export function tuneText({ sites, tells }: TuneResult, camera: Camera): string {
  const [only] = sites;
  const parts =
    sites.length === 1 && only
      ? [...answerOf(only, camera), ...weatherOf(only)]
      : [
          severalSites(sites, tells),
          ...sites.flatMap((site) =>
            site.tells === 'too little'
              ? []
              : [`${strong(siteName(site))}\n${fold(`${nowText(site.now)} ${luckOfSite(site)}`.trim())}`],
          ),
          ...sites.flatMap((site) => named(site, weatherOf(site))),
        ];
  return [...parts, ...restsOn(sites, camera)].filter((part) => part !== '').join('\n\n');
}

function named(site: SiteResult, parts: readonly string[]): string[] {
  return parts.map((part) => `${faint(`${siteName(site)}:`)} ${part}`);
}

function answerOf(site: SiteResult, camera: Camera): string[] {
  if (site.tells === 'too little') {
    return [
      `${strong(headline(site))}\n${fold(whatToRecord(site))}`,
      `Until then, sensible choices, from the most visits on:\n${choicesTable(site, camera)}`,
      fold(nowText(site.now)),
    ];
  }
  const { score, unseen } = site.recommended;
  const rows = [
    ['on these clips', `${score.caught} of ${score.visits}`, share(score.recall), rate(byBouts(score))],
    ['on others like them', '', share(unseen.recall), rate(unseen.falsePerHour)],
    [
      site.now.assumed ? 'dials at their middle' : 'what you use now',
      `${site.now.score.caught} of ${site.now.score.visits}`,
      share(site.now.score.recall),
      rate(byBouts(site.now.score)),
    ],
  ];
  return [
    strong(fold(headline(site))),
    table(['', 'visits caught', 'share, 90 %', 'false an hour, 90 %'], rows),
    [nowText(site.now), ...explain(site)].map((sentence) => fold(sentence)).join('\n'),
  ];
}

/** A rate with the interval by bouts, for false triggers come in bunches. */
function byBouts({ falsePerHour }: SiteResult['recommended']['score']) {
  return falsePerHour && { ...falsePerHour, ...falsePerHour.bouts };
}

function choicesTable(site: SiteResult, camera: Camera): string {
  const { visits, watchedHours } = site.recommended.score;
  const chosen = sensibleChoices(site);
  const controls = chosen.map(({ settings }) => controlsOf(settings, camera));
  const { same, differ } = alike(controls);
  const rows = chosen.map(({ recall, falsePerHour }, i) => [
    differing(controls[i]!, differ),
    share(recall === null ? null : wilson(Math.round(recall * visits), visits)),
    rate(falsePerHour === null ? null : poissonRate(Math.round(falsePerHour * watchedHours), watchedHours)),
  ]);
  const rest = Object.keys(same).length > 0 ? `\n${item('all with', dialsText(same), NAME)}` : '';
  return `${table(['dials', 'visits, 90 %', 'false an hour, 90 %'], rows)}${rest}`;
}

/** One table of all sites: what each catches now and would catch, and the dials that differ. */
function severalSites(sites: readonly SiteResult[], tells: TuneResult['tells']): string {
  const told = sites.filter(({ tells: can }) => can !== 'too little');
  const { same, differ } = alike(told.map(({ recommended }) => recommended.controls));
  const rows = sites.map((site) => {
    const { score } = site.recommended;
    const told = site.tells !== 'too little';
    return [
      siteName(site),
      site.tells,
      `${site.now.score.caught} of ${site.now.score.visits}`,
      told ? `${score.caught} of ${score.visits}` : '-',
      told ? rate(byBouts(score)) : '-',
    ];
  });
  const lines = sites.map((site) =>
    item(
      siteName(site),
      site.tells === 'too little'
        ? whatToRecord(site)
        : `${differing(site.recommended.controls, differ)}${withMask(site)}`,
      NAME,
    ),
  );
  const assumed = sites[0]?.now.assumed ? 'dials at middle' : 'used now';
  return [
    strong(
      tells === 'too little' ? 'Each site by itself; some have too little to tell' : 'Each site by itself',
    ),
    table(['site', 'tells', assumed, 'recommended', 'false an hour, 90 %'], rows),
    '',
    strong('Set them like this'),
    ...lines,
    ...(Object.keys(same).length > 0 ? [item('everywhere', dialsText(same), NAME)] : []),
  ].join('\n');
}

/** What would be best in each kind of weather: recorded and simulated never share a table. */
export function weatherOf(site: SiteResult): string[] {
  const { byCondition, recommended } = site;
  const recorded = byCondition.filter(({ source, choice }) => source === 'recorded' && choice);
  const simulated = byCondition.filter(({ source }) => source === 'simulated');
  const told: string[] = [];
  if (recorded.length > 1) {
    const groups = recorded.map(({ choice }) => choice?.controls ?? {});
    const { differ } = alike([recommended.controls, ...groups]);
    const rows = recorded.map(({ condition, clips, choice }) => [
      `${condition}, ${plural(clips.length, 'clip')}`,
      choice ? `${choice.score.caught} of ${choice.score.visits}` : '-',
      choice ? rate(byBouts(choice.score)) : '-',
    ]);
    const dials = recorded.map(({ condition }, i) => item(condition, differing(groups[i]!, differ), NAME));
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
    const rows = simulated.flatMap(({ condition, strengths = [] }) =>
      strengths.map(({ strength, recall, falsePerHour }) => [
        strengthName(condition, strength),
        recall === null ? '-' : `${Math.round(100 * recall)} %`,
        falsePerHour === null ? '-' : figure(falsePerHour),
      ]),
    );
    const dials = simulated.flatMap(({ condition, choice }) =>
      choice ? [item(condition, dialsText(choice.controls), NAME)] : [],
    );
    told.push(
      [
        strong('Simulated, for weather that nobody recorded'),
        table(['weather', 'visits caught', 'false an hour'], rows),
        ...dials,
        ...explainSimulated(site).map((sentence) => fold(sentence)),
      ].join('\n'),
    );
  }
  return told;
}

function restsOn(sites: readonly SiteResult[], camera: Camera): string[] {
  const [first] = sites;
  if (!first) return [];
  const clips = sites.flatMap((site) => site.clips);
  const assumptions = assumptionsOf(sites);
  return [
    fold(
      `Chosen for this: ${goalText(first)}. ${plural(first.searched, 'group')} of settings of the ${camera.name} tried on ${plural(clips.length, 'clip')}. --report shows notches, prices and photos; --json all of it.`,
    ),
    ...(assumptions.length > 0
      ? [
          fold(
            `Simulation assumes ${assumptions[0]}, and ${assumptions.length - 1} things more, which --report and --json list.`,
          ),
        ]
      : []),
    ...(keepsEvidence(camera)
      ? []
      : [
          fold(
            'Its reference depends on its triggers, so each group was replayed frame by frame, on fewer groups.',
          ),
        ]),
  ];
}
