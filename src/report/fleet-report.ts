import {
  fleetCells,
  fleetHeads,
  leftText,
  type ProgressTold,
  type RunTold,
  runText,
  type SiteTold,
} from '../words/fleet-wording.js';
import { plural } from '../words/wording.js';
import { html } from './markup.js';
import { pageOf } from './page.js';

/** What a fleet found, site by site. */
export interface FleetTold {
  runs: readonly RunTold[];
  sites: readonly (SiteTold & { progress: ProgressTold })[];
}

/** The table of all sites as one HTML file; worse ones come first. */
export function fleetReport({ runs, sites }: FleetTold): string {
  const rows = sites.map((site) => fleetCells(site, leftText(site.progress)));
  const body = html`<section>
<h2>Site by site</h2>
<p class="note">Against the last run of the same list, by what was counted: whether a difference is more than chance, the document of a check says.</p>
<table><thead><tr>${fleetHeads.map((head) => html`<th>${head}</th>`)}</tr></thead><tbody>
${rows.map((cells) => html`<tr>${cells.map((cell, c) => (c === 0 ? html`<th scope="row">${cell}</th>` : html`<td>${cell}</td>`))}</tr>\n`)}</tbody></table>
</section>
<section>
<h2>Runs</h2>
${runs.map((run) => html`<p>${runText(run)}</p>\n`)}</section>
`;
  return pageOf('The fleet', `${plural(sites.length, 'site')} in ${plural(runs.length, 'run')}`, body);
}
