import type { SiteResult } from '../jobs/tune.js';
import { assumedFigure, timesName } from '../words/explain-doubts.js';
import { explainLimit } from '../words/explain-limit.js';
import { strengthName } from '../words/strength-name.js';
import { dialsText, figure, plural } from '../words/wording.js';
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

/** Every assumption of the tables halved and doubled, in one table; nothing where none was. */
export function doubtsTable({ doubts }: SiteResult): Markup {
  if (doubts.length === 0) return html``;
  const kinds = [...new Set(doubts.map(({ condition }) => condition))];
  const parts = kinds.map((kind) => doubtsOfKind(doubts.filter(({ condition }) => condition === kind)));
  return html`<h3>What if the assumptions are wrong</h3>
<p>What the settings advised would do, were each figure in the tables of what is assumed half or twice what it is (constants of the models are not in them), in one drawing of chance: false triggers an hour, and in brackets the share of visits caught.</p>
${parts}`;
}

type DoubtOf = SiteResult['doubts'][number];

function doubtsOfKind(doubts: readonly DoubtOf[]): Markup {
  const [{ condition, strength, asAssumed, visits }] = doubts as [DoubtOf];
  const names = [...new Set(doubts.map(({ assumption }) => assumption))];
  const byName = names.map((name) => doubts.filter(({ assumption }) => assumption === name));
  const changing = byName.filter((of) => of.some(isOther));
  const idle = byName.filter((of) => !of.some(isOther)).map(([doubt]) => doubt!);
  const rows = changing.map((of) => {
    const [{ what, source }] = of as [DoubtOf];
    const outcomes = of.map((doubt) => {
      const cut = doubt.taken === doubt.times ? null : html`<br>at ${timesName(doubt.taken)}`;
      return html`<td>${outcomeText(doubt)}${cut}</td>`;
    });
    const advice = adviceText(of);
    return html`<tr><td class="text">${what}${advice === null ? null : html`<br><strong>${advice}</strong>`}</td>${outcomes}</tr><tr class="more"><td class="note" colspan="${of.length + 1}">${assumedFigure(of[0]!)}; ${source}</td></tr>
`;
  });
  const heads = (changing[0] ?? []).map(({ times }) => html`<th>${timesName(times)}</th>`);
  const table = html`<div class="scroll"><table><thead><tr><th class="text">assumption</th>${heads}</tr></thead><tbody>
${rows}</tbody></table></div>
`;
  const tooFew = doubts.some(({ flips }) => flips === null)
    ? ' There were too few visits to tell whether advice of its own would change.'
    : '';
  return html`<p>Simulated ${condition}, ${strengthName(condition, strength)}; ${plural(visits, 'visit')}; as assumed ${outcomeText(asAssumed)}.${tooFew}</p>
${rows.length > 0 ? table : null}${
  idle.length > 0
    ? html`<p class="note">Nothing changes with half or twice of these: ${idle.map((doubt) => `${doubt.what} (${assumedFigure(doubt)}; ${doubt.source})`).join('; ')}.</p>\n`
    : null
}`;
}

/** Whether it does anything at all. */
function isOther({ flips, recall, falsePerHour, asAssumed }: DoubtOf): boolean {
  return flips === true || recall !== asAssumed.recall || falsePerHour !== asAssumed.falsePerHour;
}

function outcomeText({ recall, falsePerHour }: Pick<DoubtOf, 'recall' | 'falsePerHour'>): string {
  return `${rateText(falsePerHour)}\u00a0(${shareText(recall)})`;
}

/** Null where the advice holds, or too few visits carry any. */
function adviceText(doubts: readonly DoubtOf[]): string | null {
  const flipping = doubts.filter(({ flips }) => flips);
  const drawn = {
    true: ', and in a second drawing of chance',
    false: ', but not in a second drawing of chance',
  };
  if (flipping.length === 0) return null;
  const others = flipping.map(
    ({ taken, controls, again }) =>
      `at ${timesName(taken)} ${dialsText(controls)}${again === undefined ? '' : drawn[`${again}`]}`,
  );
  return `The advice would be another: ${others.join('; ')}. ${flipping[0]!.measure}`;
}

/** How dark it may get; nothing where no light was simulated. */
export function limitSection(result: SiteResult): Markup {
  const { limit } = result;
  if (!limit) return html``;
  const rows = limit.levels.map(
    ({ lux, caught, share, low, high }) =>
      html`<tr><td>${strengthName('low light', lux)}</td><td>${caught} of ${limit.inFullLight}</td><td>${shareText(share)} (${Math.round(100 * low)} to ${Math.round(100 * high)})</td></tr>
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

function rateText(rate: number | null): string {
  return rate === null ? '–' : figure(rate);
}

function shareText(value: number | null): string {
  return value === null ? '–' : `${Math.round(100 * value)}\u00a0%`;
}
