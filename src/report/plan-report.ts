import type { PlanResult, SitePlan } from '../jobs/plan.js';
import {
  allowanceText,
  darknessText,
  momentText,
  noDarknessText,
  planAdvice,
  planHeadline,
  plannedName,
  planRests,
  rateOrDash,
  roughly,
  shareOrDash,
  sourceText,
  spanText,
  turnsOf,
  walksText,
  weatherNamed,
} from '../words/plan-wording.js';
import { dialsText, plural } from '../words/wording.js';
import { week } from './figures/week.js';
import { html, Markup } from './markup.js';
import { pageOf } from './page.js';

/** A plan as one HTML file: the answer of each site, a figure of the hours, what to expect in them, what it rests on. */
export function planReportHtml(plan: PlanResult, camera: string): string {
  const { sites } = plan;
  const assumed = [...new Set(sites.flatMap((site) => [...site.assumed, ...site.defaults]))];
  const body = html`${sites.map((site, s) => siteSection(site, plan, s))}
<section>
<h2>What it rests on</h2>
<p>${planRests(plan)}</p>
${assumed.length === 0 ? null : html`<p>Simulated figures assume:</p><ul>${assumed.map((line) => html`<li>${line}</li>`)}</ul>`}
</section>`;
  return pageOf(
    `Plan for the ${camera}`,
    `${spanText(plan)}, ${plural(plan.hours, 'hour')}, by the clock of the forecast`,
    body,
  );
}

function siteSection(site: SitePlan, plan: PlanResult, place: number): Markup {
  const id = `week-${place + 1}`;
  const [dark, darkness, within] = [noDarknessText(site), darknessText(site), allowanceText(site)];
  return html`<section>
<h2>${plannedName(site)}</h2>
${dark === null ? null : html`<p class="words"><strong>${dark}</strong></p>`}<p class="words"><strong>${planHeadline(site)}</strong></p>
<p>${walksText(site, plan)}</p>
${within === '' ? null : html`<p>${within}</p>`}
${walksTable(site)}
<h3>Hour by hour</h3>
<figure class="strip"><div class="wide">${new Markup(week(plan, site, id, 'wide'))}</div><div class="narrow">${new Markup(week(plan, site, `${id}-narrow`, 'narrow'))}</div>
<figcaption>Bars from below: wind, from Beaufort 4 on dark. Bars from above: rain. Shaded: low light; darkest: too dark to be of use; hatched: nothing is known of it.${site.week.worthIt ? ' Diamonds: walks.' : ''}</figcaption></figure>
${darkness === '' ? null : html`<p>${darkness}</p>`}
${site.notes.map((note) => html`<p>${note}</p>`)}
<h3>What to expect</h3>
${weekTable(site)}
${kindsTable(site)}
<details><summary>Stretch by stretch</summary>
${stretchTable(site)}
</details>
</section>
`;
}

function walksTable(site: SitePlan): Markup | null {
  if (planAdvice(site) !== 'change') return null;
  return html`<table class="told"><thead><tr><th>when</th><th class="text">set it to</th></tr></thead><tbody>
${turnsOf(site).map(([moment, dials]) => html`<tr><td>${moment}</td><td class="text">${dials}</td></tr>`)}
</tbody></table>`;
}

/** One setting against changing. */
function weekTable({ week: { one, changing, walks }, ...site }: SitePlan): Markup {
  if (
    planAdvice({ ...site, week: { one, changing, walks, gain: null, worthIt: false, holds: null } }) ===
    'too little'
  ) {
    return html``;
  }
  const row = (name: string, told: typeof one | typeof changing, count: number) =>
    html`<tr><td>${name}</td><td>${shareOrDash(told.recall)}</td><td>${rateOrDash(told.falsePerHour)}</td><td>${roughly(told.photosOfNothing)}</td><td>${count}</td></tr>`;
  return html`<div class="scroll"><table class="sites"><thead><tr><th></th><th>visits caught</th><th>false an hour</th><th>photos of nothing</th><th>walks</th></tr></thead><tbody>
${row('one setting', one, 0)}${walks > 0 ? row('changing it', changing, walks) : null}
</tbody></table></div>
<p class="note">Over the hours of use of which something is known; 90 % in brackets, the ends added as if they came together.</p>`;
}

function kindsTable({ kinds }: SitePlan): Markup {
  return html`<div class="scroll"><table class="sites"><thead><tr><th>weather</th><th>hours</th><th>visits caught</th><th>false an hour</th><th class="text">by</th></tr></thead><tbody>
${kinds.map(
  (kind) =>
    html`<tr><td>${weatherNamed(kind)}</td><td>${kind.hours}</td><td>${shareOrDash(kind.recall)}</td><td>${rateOrDash(kind.falsePerHour)}</td><td class="text">${sourceText(kind)}</td></tr>`,
)}
</tbody></table></div>`;
}

function stretchTable({ stretches }: SitePlan): Markup {
  return html`<div class="scroll"><table class="told sites"><thead><tr><th>from</th><th>hours</th><th class="text">weather</th><th class="text">dials</th><th>visits caught</th><th>photos an hour</th><th class="text">by</th></tr></thead><tbody>
${stretches.map(
  ({ from, hours, weather, controls, recall, photosPerHour, source }) =>
    html`<tr><td>${momentText(from)}</td><td>${hours}</td><td class="text">${weatherNamed({ weather })}</td><td class="text">${controls ? dialsText(controls) : 'too dark'}</td><td>${shareOrDash(recall)}</td><td>${roughly(photosPerHour)}</td><td class="text">${source ?? ''}</td></tr>`,
)}
</tbody></table></div>`;
}
