import type { FitResult } from '../jobs/fit.js';
import {
  agreementText,
  asGivenText,
  besidesFound,
  equallyGoodText,
  fitHeadline,
  foundRows,
  offsetText,
} from '../words/fit-wording.js';
import { clock, plural } from '../words/wording.js';
import { firedLegend, firedLine } from './figures/fired-line.js';
import { html, Markup } from './markup.js';
import { pageOf } from './page.js';

/** What `fit` found as one HTML file: the answer, the fired times against those predicted, every description as good, what to record. */
export function fitReportHtml(result: FitResult): string {
  const { moments, seconds, record, assumed, notes, fired } = result;
  const given = asGivenText(result);
  const besides = besidesFound(result);
  const line = (format: 'wide' | 'narrow') =>
    new Markup(firedLine(moments, seconds, `fired-${format}`, format));
  const body = html`<section>
<h2>The answer</h2>
${given === null ? null : html`<p class="words">${given}</p>`}
<p class="words"><strong>${fitHeadline(result)}</strong></p>
<p>${agreementText(result)}</p>
<p class="note">F1 is the harmonic mean of two shares: of the camera's triggers those that the description fires too, and of the description's those that the camera fired. Each trigger is matched once.</p>
<h3>Time by time</h3>
<figure class="strip"><div class="wide">${line('wide')}</div><div class="narrow">${line('narrow')}</div></figure>
${firedLegend(moments)}
<p>${offsetText(result)}</p>
</section>
<section>
<h2>What was found</h2>
<table class="told sites"><tbody>
${foundRows(result).map(([name, value]) => html`<tr><td>${name}</td><td class="text">${value}</td></tr>`)}
</tbody></table>
${
  besides.length === 0
    ? null
    : html`<h3>As good as that</h3>
<p>This recording cannot tell ${plural(besides.length, 'other description')} from it:</p>
<ul>${besides.map((one) => html`<li>${equallyGoodText(one)}</li>`)}</ul>`
}
${record === null ? null : html`<h3>What would tell more</h3><p>${record}</p>`}
</section>
<section>
<h2>What it rests on</h2>
${assumed.length === 0 ? null : html`<p>Taken to be so:</p><ul>${assumed.map((one) => html`<li>${one}</li>`)}</ul>`}
<ul>${notes.map((note) => html`<li>${note}</li>`)}</ul>
</section>`;
  return pageOf(
    'Does it fire as the camera does?',
    `${result.clip}, ${clock(seconds)} long; ${plural(fired.onClip, 'trigger')} of the camera on it`,
    body,
  );
}
