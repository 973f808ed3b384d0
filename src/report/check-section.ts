import type { ListedChange } from '../words/check-list.js';
import { html, type Markup } from './markup.js';
import type { PictureGroup } from './picture-data.js';
import { pictureList } from './picture-list.js';

/** What a check found, as a report shows it. */
export interface CheckShown {
  verdict: 'holds' | 'fails';
  /** What it was held against, and what changed besides the results. */
  against: readonly string[];
  /** Why it fails; empty where it holds. */
  reasons: readonly string[];
  /** What is inferred for other footage; null where there is nothing to infer it from. */
  elsewhere: string | null;
  clips: readonly CheckedClipShown[];
}

/** A clip that there is something to say about. */
export interface CheckedClipShown {
  name: string;
  verdict: string;
  changes: readonly ListedChange[];
  /** Visits caught before and missed now. */
  lost: PictureGroup;
  /** False triggers that were not there before. */
  newFalse: PictureGroup;
}

/** What got worse and what got better, with pictures of newly missed visits and newly false triggers. */
export function checkSection(check: CheckShown): Markup {
  const { verdict, against, reasons, elsewhere, clips } = check;
  const same = clips.filter(({ verdict }) => verdict === 'same').map(({ name }) => name);
  return html`<section>
<div class="together">
<h2 id="check">Has it got worse? The check ${verdict}</h2>
${against.map((line) => html`<p class="note">${line}</p>\n`)}${reasons.map((line) => html`<p class="words">${line}</p>\n`)}${elsewhere === null ? null : html`<p>Inferred, for more footage like this: ${elsewhere}</p>`}
</div>
${clips.filter(({ verdict }) => verdict !== 'same').map(clipPart)}
${same.length > 0 ? html`<p>The same as before: ${same.join(', ')}.</p>` : null}
</section>
`;
}

function clipPart({ name, verdict, changes, lost, newFalse }: CheckedClipShown): Markup {
  return html`<h3>${name}: ${verdict}</h3>
<dl class="changes">
${changes.map(({ what, entries }) => html`<dt>${what}</dt><dd>${entries.join(', ')}</dd>\n`)}</dl>
${pictureList('Visits newly missed', lost)}
${pictureList('New false triggers', newFalse)}
`;
}
