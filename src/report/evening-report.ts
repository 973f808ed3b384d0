import type { EveningResult } from '../jobs/evening.js';
import type { OpenPorts } from '../jobs/ports.js';
import {
  asideTexts,
  conditionRows,
  countsText,
  hourRows,
  nextText,
  PEOPLE_CAUTION,
  precisionText,
  spanText,
  stretchRows,
  verdictHeading,
  verdictText,
} from '../words/evening-wording.js';
import { picturesOf } from './evening-shown.js';
import { eveningFigure } from './figures/evening.js';
import { html, Markup } from './markup.js';
import { pageOf } from './page.js';
import type { PictureGroup } from './picture-data.js';
import { pictureList } from './picture-list.js';

/** Pixels that the figure is wide, and on phones. */
const [WIDE, NARROW] = [860, 350];

/** The report of an evening as one HTML file's text; no person is shown in it. */
export async function eveningReport(evening: EveningResult, ports: OpenPorts): Promise<string> {
  ports.onPhase(`${evening.folder}: drawing for the report`);
  const [animals, nothing] = [
    await picturesOf(evening, 'animal', ports),
    await picturesOf(evening, 'nothing', ports),
  ];
  return eveningHtml(evening, { animals, nothing });
}

/** The page itself: the same data give the same bytes. */
function eveningHtml(
  evening: EveningResult,
  { animals, nothing }: { animals: PictureGroup; nothing: PictureGroup },
): string {
  const { byHour, byStretch, byCondition, assumed, notes, out } = evening;
  const next = nextText(evening);
  const title = out ? `Photos of ${spanText(out)}` : 'Photos of an evening';
  const parts = byStretch ?? byHour;
  const body = html`<section class="together">
<h2>${verdictHeading(evening)}</h2>
<p class="words">${verdictText(evening)}</p>
<p>${precisionText(evening)}</p>
${next === null ? null : html`<p>${next}</p>\n`}${[...asideTexts(evening), ...notes].map((line) => html`<p class="note">${line}</p>\n`)}</section>
${parts.length > 0 ? figureSection(evening) : null}<section>
<h2>What came when</h2>
${byStretch && byStretch.length > 0 ? told('By stretch of the plan', stretchRows(byStretch)) : null}${byCondition && byCondition.length > 0 ? told('By weather', conditionRows(byCondition)) : null}${byHour.length > 0 ? told('By hour of the day', hourRows(byHour)) : html`<p>No two photos tell how long the camera was out, so nothing can be told by hour.</p>\n`}</section>
<section>
<h2>Photos</h2>
${pictureList('Animals', animals)}${pictureList('Nothing', nothing)}<p class="note">One of each burst. Photos of people are never shown in a report, nor photos that nobody has marked, nor any taken within 30 s of one of these.</p>
</section>
<section>
<h2>What this rests on</h2>
<ul>${assumed.map((line) => html`<li>${line}</li>`)}<li>intervals are of 90 %; those an hour have bunches of photos within 30 s as their units</li></ul>
<p class="note">${PEOPLE_CAUTION}</p>
</section>`;
  return pageOf(title, `${countsText(evening)}.`, body);
}

function figureSection({ byHour, byStretch }: EveningResult): Markup {
  const parts = byStretch ?? byHour;
  const promised = parts.some((part) => part.promised !== null)
    ? ' Dashed line and band: what was promised, with its range.'
    : '';
  return html`<section class="together">
<figure class="strip"><div class="wide">${new Markup(eveningFigure(parts, WIDE, 'evening-wide'))}</div><div class="narrow">${new Markup(eveningFigure(parts, NARROW, 'evening-narrow'))}</div>
<figcaption>Bars: photos of nothing an hour; upright lines: 90 % intervals.${promised}</figcaption></figure>
</section>
`;
}

function told(title: string, { heads, rows }: { heads: string[]; rows: string[][] }): Markup {
  return html`<h3>${title}</h3>
<div class="scroll"><table class="sites"><thead><tr>${heads.map((head) => html`<th scope="col">${head}</th>`)}</tr></thead><tbody>
${rows.map((row) => html`<tr>${row.map((cell) => html`<td>${cell}</td>`)}</tr>\n`)}</tbody></table></div>
`;
}
