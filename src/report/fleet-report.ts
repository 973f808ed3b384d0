import {
  changesText,
  fleetCells,
  fleetHeads,
  leftText,
  type ProgressTold,
  type RunTold,
  runText,
  type SiteTold,
} from '../words/fleet-wording.js';
import { plural } from '../words/wording.js';
import { html, type Markup } from './markup.js';
import { pageOf } from './page.js';

/** What a fleet found, site by site. */
export interface FleetTold {
  runs: readonly RunTold[];
  sites: readonly (SiteTold & { progress: ProgressTold })[];
}

/** The table of all sites as one HTML file; worse ones come first. */
export function fleetReport({ runs, sites }: FleetTold): string {
  const [, , ...heads] = fleetHeads;
  const body = html`<section>
<h2>Site by site</h2>
<p>${changesText(sites)}</p>
<p class="note">Against the last run of the same list, by what was counted: whether a difference is more than chance, the document of a check says.</p>
<table class="sites"><thead><tr><th class="text">site</th>${heads.map((head) => html`<th>${head}</th>`)}</tr></thead><tbody>
${sites.map(rowOf)}</tbody></table>
</section>
<section>
<h2>Runs</h2>
${runs.map(runOf)}</section>
`;
  return pageOf('The fleet', `${plural(sites.length, 'site')} in ${plural(runs.length, 'run')}`, body);
}

/** Beneath the name of the site stands what the row is of. */
function rowOf(site: FleetTold['sites'][number]): Markup {
  const [name = '', of = '', ...cells] = fleetCells(site, leftText(site.progress));
  return html`<tr><th scope="row" class="text">${name}<br><span class="note">${of}</span></th>${cells.map(
    (cell) => html`<td>${cell.replace('->', '\u2192')}</td>`,
  )}</tr>
`;
}

function runOf(run: RunTold): Markup {
  const others = run.troubles.filter(({ message }) => message !== run.message);
  const troubles = others.map(({ message }) => html`<li>${message}</li>`);
  return html`<p>${runText(run)}</p>
${
  troubles.length > 0
    ? html`<ul>${troubles}</ul>
`
    : ''
}`;
}
