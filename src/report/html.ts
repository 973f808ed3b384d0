import type { SiteResult } from '../jobs/tune.js';
import type { Score } from '../score/score.js';
import { moreVisitsText } from '../words/answer.js';
import { byLuckText } from '../words/luck.js';
import { byBouts, foretold } from '../words/ratios.js';
import { clock, engineText, figure, plural, watched } from '../words/wording.js';
import { cameraSection } from './camera-section.js';
import { checkSection } from './check-section.js';
import { clipSection } from './clip-section.js';
import { contents, placeId, sitesOf } from './contents.js';
import type { Picture, Report, ReportGroup } from './data.js';
import { diagnosisSection } from './diagnosis-section.js';
import { dialFigure } from './figures/dial.js';
import { type IntervalRow, intervals } from './figures/intervals.js';
import { legend } from './figures/legend.js';
import { html, Markup } from './markup.js';
import { pageOf } from './page.js';
import {
  choicesTable,
  conditionSection,
  frontSection,
  notchSection,
  simulatedNote,
} from './tune-sections.js';

/** A report as one HTML file that needs nothing else: no scripts, no requests, and the same data give the same bytes. */
export function reportHtml(report: Report): string {
  const { title, groups } = report;
  const clips = groups.flatMap((group) => group.clips);
  const seconds = clips.reduce((sum, clip) => sum + clip.seconds, 0);
  const body = html`${contents(report)}
${report.check ? checkSection(report.check) : null}${groups.map((group, g) => settingsPart(group, g))}${report.cameras ? cameraSection(report.cameras) : null}${simulatedNote(sitesOf(report), report.foliage)}${report.diagnosis ? diagnosisSection(report.diagnosis) : null}<section>
<h2 id="clips">Clip by clip</h2>
${legend(clips, picturesOf(report))}
${groups.map((group, g) => clipsPart(group, clipsBefore(groups, g)))}
</section>`;
  return pageOf(
    title,
    `${report.camera}; ${plural(clips.length, 'clip')}, ${clock(seconds)} of recording`,
    body,
  );
}

/** All pictures of a report. */
function picturesOf({ groups, diagnosis }: Report): Picture[] {
  const shown = [
    ...groups.flatMap(({ clips }) => clips.flatMap(({ pictures }) => Object.values(pictures))),
    ...(diagnosis?.clips ?? []).flatMap(({ pictures }) => Object.values(pictures)),
  ];
  return shown.flatMap(({ pictures }) => pictures);
}

/** What to set at one site, how sure that is, and what else there is to choose from. */
function settingsPart(group: ReportGroup, place: number): Markup {
  const { about, dials, site } = group;
  const tag = place === 0 ? '' : `-${place + 1}`;
  return html`<div id="${placeId(place)}">${site === null ? null : html`<h2 class="site">${site}</h2>`}${settingsSection(group, tag)}</div>
${howSure(group, tag)}
${about.kind === 'tune' ? [notchSection(about.result, dials), conditionSection(about.result), frontSection(about.result, dials, tag)] : null}
`;
}

function clipsBefore(groups: readonly ReportGroup[], place: number): number {
  return groups.slice(0, place).reduce((sum, { clips }) => sum + clips.length, 0);
}

function clipsPart({ clips, settings }: ReportGroup, before: number): Markup {
  return html`${clips.map((clip, i) => clipSection(clip, settings, before + i))}`;
}

function settingsSection({ about, dials, offDials, settings }: ReportGroup, tag: string): Markup {
  return html`<section class="together">
<h2>${about.kind === 'tune' ? about.heading : 'Replayed like this'}</h2>
<div class="dials">
${dials.map(
  (
    dial,
    i,
  ) => html`<figure>${new Markup(dialFigure(dial, `dial${tag}-${i + 1}`))}<figcaption>${engineText(dial.sets, settings[dial.sets])}</figcaption></figure>
`,
)}</div>
${offDials.length > 0 ? html`<p class="note">Not at a position of a dial: ${offDials.map((value) => engineText(value, settings[value])).join('; ')}.</p>` : null}
${about.kind === 'tune' ? [choicesTable(about.choices), ...about.words.map((sentence) => html`<p>${sentence}</p>\n`)] : null}</section>
`;
}

/** Measured on these clips, and foretold for others where tuning did. */
function howSure({ about, settings }: ReportGroup, tag: string): Markup {
  const score = about.kind === 'tune' ? about.result.recommended.score : about.score;
  if (!score) {
    return html`<section><h2>How sure</h2><p>No clip has labels, so nothing can be said about how good these settings are.</p></section>
`;
  }
  const unseen = about.kind === 'tune' ? about.result.recommended.unseen : null;
  const elsewhere = about.kind === 'tune' ? foretold(about.result.recommended) : null;
  const scored = about.kind === 'tune' ? about.result.recommended.settings : settings;
  const rows = (seen: IntervalRow['between'], told: IntervalRow['between']): IntervalRow[] => [
    { of: 'these clips', between: seen },
    ...(unseen ? [{ of: 'unseen footage', between: told } as const] : []),
  ];
  const allowed = about.kind === 'tune' ? (about.result.allowance?.falsePerHour ?? null) : null;
  return html`<section class="together">
<h2>How sure</h2>
${about.kind === 'tune' && about.result.tells !== 'too little' ? null : html`<p>${scoreText(score)}</p>`}
${about.kind === 'tune' ? html`<p>${unseenText(about.result)}</p>` : null}
<div class="pair">
<figure><figcaption>Visits caught</figcaption>${new Markup(intervals(rows(score.recall, unseen?.recall ?? null), { kind: 'share' }, 'Visits caught', `sure-recall${tag}`))}</figure>
<figure><figcaption>False triggers, an hour</figcaption>${new Markup(intervals(rows(byBouts(score, scored), elsewhere), { kind: 'rate', allowed }, 'False triggers an hour', `sure-false${tag}`))}</figure>
</div>
<p class="note">Bars and brackets: 90 % intervals.</p>
</section>
`;
}

function scoreText(score: Score): string {
  const { caught, visits, falseTriggers, watchedHours } = score;
  return `On these clips: ${caught} of ${plural(visits, 'visit')} caught${byLuckText(score)}. Fired falsely ${plural(falseTriggers, 'time')} in ${watched(watchedHours)}.`;
}

function unseenText({ tells, recommended }: SiteResult): string {
  const { unseen } = recommended;
  if (unseen.how === 'too little to tell') {
    // What to record stands beside the dials where nothing can be told.
    const more = tells === 'too little' ? '' : ` ${moreVisitsText(recommended)}`;
    return `On other footage: too little to tell. The clips a choice was made on flatter it.${more}`;
  }
  const how =
    unseen.how === 'leave one clip out'
      ? 'each clip was left out in turn and the choice made anew without it'
      : 'blocks of time were left out in turn and the choice made anew without them';
  const over = [
    ...(unseen.recall ? [`${plural(unseen.recall.n, 'more visit', 'more visits')}`] : []),
    ...(unseen.falsePerHour ? [`${figure(unseen.falsePerHour.hours)} more hours`] : []),
  ].join(' and ');
  return `On other footage in like conditions, over ${over || 'as much again'}: foretold below; for this, ${how}.`;
}
