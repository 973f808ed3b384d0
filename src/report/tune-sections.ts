import type { Settings } from '../camera/settings.js';
import type { SiteResult } from '../jobs/tune.js';
import type { Score } from '../score/score.js';
import type { Choice } from '../tune/site-result.js';
import { alike, differing } from '../words/answer.js';
import { chosenName, type SensibleChoice, whyFirst } from '../words/choices.js';
import type { DialShown } from '../words/dials-shown.js';
import {
  assumptionsOf,
  explainSimulated,
  explainWeather,
  fewSimulatedText,
  isUntried,
  UNTRIED_WIND,
} from '../words/explain-weather.js';
import { byBouts } from '../words/ratios.js';
import { strengthName } from '../words/strength-name.js';
import { dialsText, figure, figureBetween, percentBetween, plural, tidy } from '../words/wording.js';
import type { FoliageShown } from './data.js';
import { frontFigure } from './figures/front.js';
import { html, Markup } from './markup.js';
import { doubtsTable, limitSection, rainTable } from './weather-sections.js';

/** What turning one dial by one notch would change on these clips. */
export function notchSection({ notches, recommended }: SiteResult, dials: readonly DialShown[]): Markup {
  if (notches.length === 0) return html``;
  const base = recommended.score;
  const cooldownAt = (name: string, position: number) => {
    const turned = dials.find((dial) => dial.name === name && dial.sets === 'cooldown');
    return turned?.values[turned.positions.indexOf(position)] ?? recommended.settings.cooldown;
  };
  const rows = notches.map(({ dial, position, score }) => {
    const from = recommended.controls[dial];
    return html`<tr><td>${dial} ${from === undefined ? '' : `${tidy(from)} `}to ${tidy(position)}</td><td>${score.caught} (${signed(score.caught - base.caught)})</td><td>${score.falseTriggers} (${signed(score.falseTriggers - base.falseTriggers)})</td><td>${betweenOf(score, { cooldown: cooldownAt(dial, position) })}</td></tr>
`;
  });
  return html`<section class="together">
<h2>One notch either way</h2>
<p>As it stands: ${base.caught} of ${plural(base.visits, 'visit')} caught, fired falsely ${plural(base.falseTriggers, 'time')}.</p>
<div class="scroll"><table><thead><tr><th>dial</th><th>visits caught</th><th>false triggers</th><th>an hour</th></tr></thead><tbody>
${rows}</tbody></table></div>
</section>
`;
}

/** The best for each kind of weather: what was recorded, and apart from it what was simulated. */
export function conditionSection(result: SiteResult): Markup {
  const recorded = result.byCondition.filter(({ source }) => source === 'recorded');
  const simulated = result.byCondition.filter(({ source }) => source === 'simulated');
  return html`${recorded.length > 1 ? recordedSection(result, recorded) : null}${simulated.length > 0 ? simulatedSection(result, simulated) : null}${limitSection(result)}`;
}

type Group = SiteResult['byCondition'][number];

function recordedSection(result: SiteResult, groups: readonly Group[]): Markup {
  const { differ } = alike([
    result.recommended.controls,
    ...groups.map(({ choice }) => choice?.controls ?? {}),
  ]);
  const rows = groups.map(({ condition, clips, choice }) =>
    choice
      ? html`<tr><td>${condition}<br><span class="note">${plural(clips.length, 'clip')}</span></td><td>${caughtOf(choice)}</td><td>${betweenOf(choice.score, choice.settings)}</td></tr><tr class="more"><td colspan="3">${differing(choice.controls, differ, `as ${chosenName(result)}`)}</td></tr>
`
      : html``,
  );
  return html`<section class="together">
<h2>By kind of weather, as recorded</h2>
<p>What would be best in each kind of weather alone.</p>
<div class="scroll"><table><thead><tr><th>weather</th><th>visits caught</th><th>false an hour</th></tr></thead><tbody>
${rows}</tbody></table></div>
${explainWeather(result).map((sentence) => html`<p>${sentence}</p>\n`)}</section>
`;
}

function simulatedSection(result: SiteResult, groups: readonly Group[]): Markup {
  const rows = groups.map((group) => {
    const { condition, choice, strengths } = group;
    return html`<tr><td>${condition}</td><td class="text">${strengths?.length ? strengths.map((s) => html`${strengthText(condition, s, (choice ?? result.recommended).settings)}<br>`) : isUntried(group, result) ? UNTRIED_WIND : '–'}</td><td class="text">${choice ? positionsText(choice.controls) : `as ${chosenName(result)}`}</td></tr>
`;
  });
  return html`<section class="together">
<h2>Simulated, for weather that nobody recorded</h2>
${explainSimulated(result).map((sentence) => html`<p>${sentence}</p>\n`)}<div class="scroll"><table class="told"><thead><tr><th>weather</th><th class="text">what would happen</th><th class="text">dials</th></tr></thead><tbody>
${rows}</tbody></table></div>
${rainTable(result)}${doubtsTable(result)}<p class="note"><a href="#assumed">What simulated weather assumes</a></p></section>
`;
}

/** What simulated weather rests on, once for all sites; nothing where none was simulated. */
export function simulatedNote(sites: readonly SiteResult[], foliage: readonly FoliageShown[] = []): Markup {
  const assumed = assumptionsOf(sites);
  const few = fewSimulatedText(sites);
  if (assumed.length === 0 && few === null) return html``;
  return html`<section>
<h2 id="assumed">What simulated weather assumes</h2>
${few ? html`<p>${few}</p>` : null}<ul class="note">${assumed.map((line) => html`<li>${line}</li>`)}</ul>
${foliage.map(foliageFigure)}</section>
`;
}

function foliageFigure({ clip, address }: FoliageShown): Markup {
  return html`<figure><img src="${address}" alt="${clip}, with what was taken for foliage hatched"><figcaption>What the simulated wind moves in ${clip} is hatched. Where that is wrong, outline foliage in labels.json; the page of <code>perchmark open</code> draws outlines.</figcaption></figure>
`;
}

/** The groups of settings to choose among where too little can be told; nothing where there are none. */
export function choicesTable(choices: readonly SensibleChoice[]): Markup {
  if (choices.length === 0) return html``;
  const why = whyFirst(choices);
  const rows = choices.map(
    ({ name, controls, recall, falsePerHour }, i) =>
      html`<tr><td>${name}${i === 0 ? ', as above' : null}</td><td>${recall ? percentBetween(recall) : '–'}</td><td>${falsePerHour ? figureBetween(falsePerHour) : '–'}</td><td class="text">${dialsText(controls)}</td></tr>
`,
  );
  return html`<div class="scroll"><table><thead><tr><th>sensible choices</th><th>visits caught, 90 %</th><th>false an hour, 90 %</th><th class="text">dials</th></tr></thead><tbody>
${rows}</tbody></table></div>
${
  why
    ? html`<p>${why}</p>
`
    : null
}`;
}

function betweenOf(score: Score, settings: Pick<Settings, 'cooldown'>): string {
  const rate = byBouts(score, settings);
  return rate ? figureBetween(rate) : '–';
}

/** Beaufort 6: 11 of 20 caught, 31 (22 to 41) false an hour. */
function strengthText(condition: string, { strength, score }: Strength, settings: Settings): string {
  const caught = score.visits === 0 ? '' : `: ${score.caught} of ${score.visits} caught`;
  const rate = byBouts(score, settings);
  const fired = rate ? `, ${figureBetween(rate)} false an hour` : '';
  return `${strengthName(condition, strength)}${caught}${fired}`;
}

type Strength = NonNullable<SiteResult['byCondition'][number]['strengths']>[number];

/** What each visit caught costs. */
export function frontSection(result: SiteResult, dials: readonly DialShown[], tag = ''): Markup {
  const rows = result.front.map(
    ({ recall, falsePerHour, settings }) =>
      html`<tr><td>${recall === null ? '–' : `${Math.round(100 * recall)} %`}</td><td>${falsePerHour === null ? '–' : figure(falsePerHour)}</td><td class="text">${positionsText(positionsOf(settings, dials))}</td></tr>
`,
  );
  return html`<section>
<div class="together">
<h2>What it costs to catch more</h2>
<p>Of ${plural(result.searched, 'group')} of settings, those that no other beats on these clips. To the right, more false triggers; upwards, more visits caught.</p>
<figure class="card">${new Markup(frontFigure(result, `front${tag}`))}</figure>
</div>
<details><summary>As a table, with the dials</summary>
<div class="scroll"><table><thead><tr><th>visits caught</th><th>false an hour</th><th class="text">dials</th></tr></thead><tbody>
${rows}</tbody></table></div></details>
</section>
`;
}

function positionsOf(settings: Choice['settings'], dials: readonly DialShown[]): Record<string, number> {
  return Object.fromEntries(
    dials.flatMap(({ name, sets, positions, values }) => {
      const position = positions[values.indexOf(settings[sets])];
      return position === undefined ? [] : [[name, position]];
    }),
  );
}

function positionsText(controls: Record<string, number>): string {
  return Object.entries(controls)
    .map(([name, position]) => `${name} ${tidy(position)}`)
    .join(', ');
}

function caughtOf({ score }: Choice): string {
  const share = score.recall ? `, ${percentBetween(score.recall)}` : '';
  return `${score.caught} of ${score.visits}${share}`;
}

function signed(n: number): string {
  return n > 0 ? `+${n}` : n === 0 ? 'same' : `−${-n}`;
}
