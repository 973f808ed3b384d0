import type { SiteResult } from '../jobs/tune.js';
import { assumedFigure, timesName } from '../words/explain-doubts.js';
import { explainLimit } from '../words/explain-limit.js';
import { strengthName } from '../words/explain-weather.js';
import { dialsText, figure } from '../words/wording.js';
import { html, type Markup } from './markup.js';

/** Which part of simulated rain fires the camera; nothing where it was not taken apart. */
export function rainTable({ rain }: SiteResult): Markup {
  if (!rain) return html``;
  const rows = rain.parts.map(
    ({ part, alone, without }) =>
      html`<tr><td class="text">${part}</td><td>${rateText(alone)}</td><td>${rateText(without)}</td></tr>
`,
  );
  return html`<h3>What of the rain fires the camera</h3>
<p>Simulated, ${figure(rain.strength)} mm/h: ${rateText(rain.falsePerHour)} false an hour in all of it, ${rateText(rain.dry)} without rain.</p>
<div class="scroll"><table><thead><tr><th>part of the rain</th><th>false an hour by it alone</th><th>without it</th></tr></thead><tbody>
${rows}</tbody></table></div>
`;
}

/** Every assumption halved and doubled; nothing where none was. */
export function doubtsTable({ doubts }: SiteResult): Markup {
  if (doubts.length === 0) return html``;
  const rows = doubts.map(
    (doubt) =>
      html`<tr><td class="text">${doubt.condition}: ${doubt.what}<br><span class="note">${assumedFigure(doubt)}; ${doubt.source}</span></td><td class="text">${timesName(doubt.times)}</td><td>${rateText(doubt.falsePerHour)} (${rateText(doubt.asAssumed.falsePerHour)})</td><td>${shareText(doubt.recall)} (${shareText(doubt.asAssumed.recall)})</td><td class="text">${adviceText(doubt)}</td></tr>
`,
  );
  return html`<h3>What if the assumptions are wrong</h3>
<p>What is advised, were each assumption half or twice what it is, at the strongest weather simulated; in brackets as assumed.</p>
<div class="scroll"><table class="told"><thead><tr><th class="text">assumption</th><th class="text">taken for</th><th>false an hour</th><th>visits caught</th><th class="text">the advice</th></tr></thead><tbody>
${rows}</tbody></table></div>
`;
}

/** How dark it may get; nothing where no light was simulated. */
export function limitSection(result: SiteResult): Markup {
  const { limit } = result;
  if (!limit) return html``;
  const rows = limit.levels.map(
    ({ lux, caught, share, low, high }) =>
      html`<tr><td>${strengthName('low light', lux)}</td><td>${caught} of ${limit.inFullLight}</td><td>${shareText(share)} (${shareText(low)} to ${shareText(high)})</td></tr>
`,
  );
  const table =
    rows.length === 0
      ? null
      : html`<div class="scroll"><table><thead><tr><th>light, simulated</th><th>visits caught at best</th><th>of what full light gives, 90 %</th></tr></thead><tbody>
${rows}</tbody></table></div>
`;
  return html`<section class="together">
<h2>How dark it may get</h2>
${explainLimit(result).map((sentence) => html`<p>${sentence}</p>\n`)}${table}</section>
`;
}

function adviceText({ flips, controls, measure }: SiteResult['doubts'][number]): string {
  if (flips === null) return 'too few visits to tell';
  return flips ? `would be another: ${dialsText(controls)}. ${measure}` : 'holds';
}

function rateText(rate: number | null): string {
  return rate === null ? '–' : figure(rate);
}

function shareText(value: number | null): string {
  return value === null ? '–' : `${Math.round(100 * value)} %`;
}
