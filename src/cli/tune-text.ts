import type { Camera } from '../camera/description.js';
import { keepsEvidence } from '../camera/keeps-evidence.js';
import { type CamerasCompared, comparedIn } from '../jobs/tune/cameras-told.js';
import type { SiteResult, TuneResult } from '../jobs/tune.js';
import { nowText, usedBySite, usedText } from '../words/against-now.js';
import {
  adviceOn,
  alike,
  differing,
  fewerPhotosText,
  goalText,
  headline,
  siteName,
  tooManyText,
  whatToRecord,
  withMask,
} from '../words/answer.js';
import { batteryText } from '../words/battery.js';
import { CAMERA_HEADS, CAMERA_HEADS_MEAN, cameraRows, explainCameras } from '../words/cameras.js';
import { sensibleChoices, whyFirst } from '../words/choices.js';
import { endsText } from '../words/dial-ends.js';
import { explain } from '../words/explain.js';
import { assumptionsOf, fewSimulatedText } from '../words/explain-weather.js';
import { luckOfSite } from '../words/luck.js';
import { byBouts, dialsText, falseAnHour, foretold, plural, rate, share } from '../words/ratios.js';
import { faint, fold, item, strong, table, tableOrLists } from './terminal.js';
import { weatherOf } from './tune-weather-text.js';

type CameraOf = (site: SiteResult) => Camera;

/** How what is used now is said here. */
const NOW_OPTION = ' (--now)';
/** Room for the name of a site or a kind of weather. */
const NAME = 16;

/** What was asked for beside the goal. */
interface Asked {
  /** Whether all that can be doubted was. */
  isDoubted: boolean;
  /** A day; left out: all day. */
  hoursOut?: number | undefined;
}

/**
 * What tuning found, for people: the answer first, then what it rests on; all of it is in the report.
 */
export function tuneText(result: TuneResult, cameraOf: CameraOf, { isDoubted, hoursOut }: Asked): string {
  const { sites, tells, battery } = result;
  const compared = comparedIn(result);
  const [only] = sites;
  const parts =
    sites.length === 1 && only
      ? [...answerOf(only, cameraOf(only), hoursOut), ...weatherOf(only)]
      : [
          severalSites(sites, tells, cameraOf, hoursOut),
          againstNow(sites, cameraOf),
          ...sites.flatMap((site) => named(site, [...choicesAt(site, cameraOf(site)), ...weatherOf(site)])),
        ];
  const lasting = battery
    ? [
        batteryText(battery)
          .map((sentence) => fold(sentence))
          .join('\n'),
      ]
    : [];
  return [
    ...parts,
    ...(compared ? [camerasText(compared)] : []),
    ...lasting,
    ...restsOn(sites, cameraOf, isDoubted),
  ]
    .filter((part) => part !== '')
    .join('\n\n');
}

/** The cameras in a table, and which to use. */
function camerasText(compared: CamerasCompared): string {
  return [
    strong('Which camera? Each by its dials alone, without new masks'),
    tableOrLists(CAMERA_HEADS, cameraRows(compared.cameras)),
    fold(CAMERA_HEADS_MEAN),
    ...explainCameras(compared).map((sentence) => fold(sentence)),
  ].join('\n');
}

function named(site: SiteResult, parts: readonly string[]): string[] {
  return parts.map((part) => `${faint(`${siteName(site)}:`)} ${part}`);
}

function answerOf(site: SiteResult, camera: Camera, hoursOut: number | undefined): string[] {
  const used = fold(`${usedText(site.now, NOW_OPTION)} ${nowText(site, camera)}`);
  if (site.tells === 'too little') {
    return [
      `${strong(headline(site, camera))}\n${fold(whatToRecord(site))}`,
      ...choicesAt(site, camera),
      used,
    ];
  }
  const { score, unseen, settings } = site.recommended;
  const falsely = (of: Parameters<typeof falseAnHour>[0]) => falseAnHour(of, camera.burst.photos);
  const rows = [
    [
      'on these clips',
      `${score.caught} of ${score.visits}`,
      share(score.recall),
      falsely(byBouts(score, settings)),
    ],
    ['on others like them', '', share(unseen.recall), falsely(foretold(site.recommended))],
    [
      usedName(site),
      `${site.now.score.caught} of ${site.now.score.visits}`,
      share(site.now.score.recall),
      falsely(byBouts(site.now.score, site.now.settings)),
    ],
  ];
  const tooMany = tooManyText([site], () => camera, fewerPhotosText(hoursOut), hoursOut);
  return [
    strong(fold(headline(site, camera))),
    table(['', 'visits caught', 'share, 90 %', 'false an hour, 90 %'], rows),
    ...folded(endsText([site])),
    ...folded(tooMany),
    [used, ...explain(site).map((sentence) => fold(sentence))].join('\n'),
  ];
}

/** A line where there is one. */
function folded(line: string | null): string[] {
  return line === null ? [] : [fold(line)];
}

function usedName({ now }: SiteResult): string {
  return now.assumed ? 'dials at middle' : 'used now';
}

/** Over what is used now at several sites. */
function usedNames(sites: readonly SiteResult[]): string {
  const [name, other] = new Set(sites.map(usedName));
  return other === undefined ? (name ?? '') : 'now, or middle';
}

/** What there is to choose among until more is recorded; nothing where there is enough to tell. */
function choicesAt(site: SiteResult, camera: Camera): string[] {
  return site.tells === 'too little' ? [`Until then, sensible choices:\n${choicesTable(site, camera)}`] : [];
}

function choicesTable(site: SiteResult, camera: Camera): string {
  const chosen = sensibleChoices(site, camera);
  const { same, differ } = alike(chosen.map(({ controls }) => controls));
  const rows = chosen.map(({ name, recall, falsePerHour }) => [
    name,
    share(recall),
    falseAnHour(falsePerHour, camera.burst.photos),
  ]);
  const dials = chosen.map(({ name, controls }) => item(name, differing(controls, differ, 'as below'), NAME));
  const rest = Object.keys(same).length > 0 ? [item('all', dialsText(same), NAME)] : [];
  const why = whyFirst(chosen);
  return [
    table(['', 'visits caught, 90 %', 'false an hour, 90 %'], rows),
    ...dials,
    ...rest,
    ...(why ? [fold(why)] : []),
  ].join('\n');
}

/** One table of all sites: what each catches now and would catch, and the dials that differ. */
function severalSites(
  sites: readonly SiteResult[],
  tells: TuneResult['tells'],
  cameraOf: CameraOf,
  hoursOut: number | undefined,
): string {
  const told = sites.filter(({ tells: can }) => can !== 'too little');
  const { same, differ } = alike(told.map(({ recommended }) => recommended.controls));
  const rows = sites.map((site) => {
    const { score, settings } = site.recommended;
    const told = site.tells !== 'too little';
    return [
      siteName(site),
      site.tells,
      `${site.now.score.caught} of ${site.now.score.visits}`,
      told ? `${score.caught} of ${score.visits}` : '-',
      told ? rate(byBouts(score, settings)) : '-',
    ];
  });
  const dialsOf = (site: SiteResult) => {
    const dials = `${differing(site.recommended.controls, differ)}${withMask(site)}`;
    switch (adviceOn(site, cameraOf(site))) {
      case 'too little':
        return whatToRecord(site);
      case 'none caught':
        return headline(site, cameraOf(site));
      case 'use':
        return dials;
      case 'as used':
        return `as you use it now: ${dials}`;
      case 'keep if content':
        return `keep what you use now if you are content; else ${dials}`;
      case 'keep':
        return `keep what you use now, rather than ${dials}`;
    }
  };
  const tooMany = tooManyText(sites, cameraOf, fewerPhotosText(hoursOut), hoursOut);
  return [
    strong(
      tells === 'too little' ? 'Each site by itself; some have too little to tell' : 'Each site by itself',
    ),
    table(['site', 'tells', usedNames(sites), 'recommended', 'false an hour, 90 %'], rows),
    '',
    strong(
      told.every(({ tells: can }) => can === 'hint') ? 'As a hint, set them like this' : 'Set them like this',
    ),
    ...sites.map((site) => item(siteName(site), dialsOf(site), NAME)),
    ...(Object.keys(same).length > 0 ? [item('everywhere', dialsText(same), NAME)] : []),
    ...folded(endsText(sites)),
    ...folded(tooMany),
  ].join('\n');
}

/** What is used now, once, and what changing it does at each site that can be told of. */
function againstNow(sites: readonly SiteResult[], cameraOf: CameraOf): string {
  const told = sites.filter(({ tells }) => tells !== 'too little');
  if (told.length === 0) return '';
  return [
    ...usedBySite(told, NOW_OPTION).map((sentence) => fold(sentence)),
    ...told.map((site) =>
      item(siteName(site), `${nowText(site, cameraOf(site))} ${luckOfSite(site)}`.trim(), NAME),
    ),
  ].join('\n');
}

function restsOn(sites: readonly SiteResult[], cameraOf: CameraOf, isDoubted: boolean): string[] {
  const [first] = sites;
  if (!first) return [];
  const clips = sites.flatMap((site) => site.clips);
  const assumptions = assumptionsOf(sites);
  const few = fewSimulatedText(sites);
  return [
    ...(few ? [fold(few)] : []),
    fold(
      `Chosen for this: ${goalText(first)}. ${triedText(sites, cameraOf)} tried on ${plural(clips.length, 'clip')}. --report shows notches, prices and photos; --json all of it.`,
    ),
    ...(assumptions.length > 0
      ? [
          fold(
            `Simulation assumes ${assumptions[0]}, and ${assumptions.length - 1} things more, which --report and --json list.${isDoubted ? '' : ' --doubts halves and doubles those that can be, and says which part of the rain fires the camera.'}`,
          ),
        ]
      : []),
    ...(sites.every((site) => keepsEvidence(cameraOf(site)))
      ? []
      : [
          fold(
            `${sites.every((site) => cameraOf(site).name === cameraOf(first).name) ? 'Its' : "One camera's"} reference depends on its triggers, so each group was replayed frame by frame, on fewer groups.`,
          ),
        ]),
  ];
}

/** 250 groups of settings of the shed camera, 45 of the box camera */
function triedText(sites: readonly SiteResult[], cameraOf: CameraOf): string {
  const tried = new Map(sites.map((site) => [cameraOf(site).name, site.searched]));
  return [...tried]
    .map(([name, n], i) => `${i === 0 ? `${plural(n, 'group')} of settings` : n} of the ${name}`)
    .join(', ');
}
