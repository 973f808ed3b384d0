import type { SiteResult } from '../jobs/tune.js';
import { figure } from '../words/wording.js';
import { CAMERAS_ID } from './camera-section.js';
import type { Report } from './data.js';
import { html, type Markup } from './markup.js';

/** The ids that the settings of a group and the clips of a report, counted through all groups, are found by. */
export const placeId = (place: number): string => `settings-${place + 1}`;
export const clipId = (index: number): string => `clip-${index + 1}`;

/** What tuning found, of each site that was tuned. */
export function sitesOf({ groups }: Report): SiteResult[] {
  return groups.flatMap(({ about }) => (about.kind === 'tune' ? [about.result] : []));
}

/** The parts of a diagnosis; the last two only where something is labelled. */
const whyLinks: [string, string][] = [
  ['why', 'Why it fired'],
  ['where', 'Where'],
  ['missed', 'What it missed'],
  ['helps', 'What would help'],
];

/** What the page holds, with links to it: several sites as a table, and what is to be said of all of them. */
export function contents(report: Report): Markup {
  const { groups, check, diagnosis, ofAll = [] } = report;
  const several = groups.some(({ site }) => site !== null);
  const labelled = diagnosis?.clips.some((clip) => clip.labelled) ?? false;
  const links: [string, string][] = [
    ...(check ? [['check', 'What changed'] as [string, string]] : []),
    ...(several ? [] : [[placeId(0), 'Settings'] as [string, string]]),
    ...(report.cameras ? [[CAMERAS_ID, 'Which camera'] as [string, string]] : []),
    ...(diagnosis ? whyLinks.slice(0, labelled ? undefined : 2) : []),
  ];
  return html`<nav aria-label="Contents">
${several ? sitesTable(report) : null}${ofAll.map((line) => html`<p>${line}</p>\n`)}<p class="jump">${links.map(([id, name]) => html`<a href="#${id}">${name}</a> `)}<a href="#clips">Clip by clip</a>${several ? null : html` ${clipLinks(report, 0)}`}</p>
</nav>
`;
}

function sitesTable(report: Report): Markup {
  const rows = report.groups.map(({ site, about }, g) => {
    const link = html`<td><a href="#${placeId(g)}">${site ?? 'settings'}</a></td>`;
    const clips = html`<tr class="more"><td colspan="5">${clipLinks(report, g)}</td></tr>
`;
    if (about.kind !== 'tune') return html`<tr>${link}<td colspan="4"></td></tr>${clips}`;
    const { tells, now, recommended } = about.result;
    const { score } = recommended;
    const told = tells !== 'too little';
    return html`<tr>${link}<td>${tells}</td><td>${now.score.caught} of ${now.score.visits}</td><td>${told ? `${score.caught} of ${score.visits}` : '–'}</td><td>${told && score.falsePerHour ? figure(score.falsePerHour.value) : '–'}</td></tr>${clips}`;
  });
  const assumed = sitesOf(report)[0]?.now.assumed ?? false;
  return html`<div class="scroll"><table class="sites"><thead><tr><th>site</th><th>tells</th><th>${assumed ? 'dials at middle' : 'used now'}</th><th>recommended</th><th>false an hour</th></tr></thead><tbody>
${rows}</tbody></table></div>
<p class="note">Visits caught with ${assumed ? 'every dial at its middle' : 'what is used now'} and with what is recommended, and false triggers an hour then.</p>
`;
}

/** The clips of a group, by their numbers in the report. */
function clipLinks({ groups }: Report, place: number): Markup {
  const before = groups.slice(0, place).reduce((n, { clips }) => n + clips.length, 0);
  return html`${(groups[place]?.clips ?? []).map(
    ({ name }, i) => html`${i === 0 ? null : html`, `}<a href="#${clipId(before + i)}">${name}</a>`,
  )}`;
}
