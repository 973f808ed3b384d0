import type { Settings } from '../camera/settings.js';
import { byLuckText } from '../words/luck.js';
import { byBouts } from '../words/ratios.js';
import { clock, figureBetween, percentBetween, plural, tidy } from '../words/wording.js';
import { clipId } from './contents.js';
import { type ClipShown, type PictureKind, pictureKinds } from './data.js';
import { strip } from './figures/strip.js';
import { html, Markup } from './markup.js';
import { pictureList } from './picture-list.js';

/** One clip under some settings: how it went, its strip over time, its pictures. */
export function clipSection(clip: ClipShown, settings: Settings, index: number): Markup {
  const id = `strip-${index + 1}`;
  return html`<section id="${clipId(index)}">
<div class="together">
<h3>${clip.name}</h3>
<p>${scoreText(clip, settings)}</p>
${clip.area.kind === 'not measured' ? html`<p class="note">${clip.area.why}</p>` : null}
<figure class="strip">
<div class="wide">${new Markup(strip(clip, `${id}-wide`, 'wide'))}</div>
<div class="narrow">${new Markup(strip(clip, `${id}-narrow`, 'narrow'))}</div>
<figcaption class="note">${stripText(clip)}</figcaption>
</figure>
</div>
${pictureKinds.map((kind) => pictures(kind, clip))}
</section>`;
}

function scoreText({ labels, triggers, seconds }: ClipShown, settings: Settings): string {
  if (labels.kind === 'unlabelled') {
    return `${clock(seconds)} long. It has no labels, so only the triggers are shown, ${triggers.length} of them: what they were of, and what was missed, cannot be told. Nor can people be left out of the photos: look them through before you pass this file on.`;
  }
  const { score } = labels;
  const caught =
    score.recall === null
      ? 'No animal came.'
      : `Caught ${score.caught} of ${plural(score.visits, 'visit')} (${percentBetween(score.recall)})${byLuckText(score)}.`;
  const between = byBouts(score, settings);
  const rate = between === null ? '' : `, ${figureBetween(between)} an hour`;
  const nothing = `Fired falsely ${plural(score.falseTriggers, 'time')}${rate}.`;
  const ignored = score.ignoredTriggers > 0 ? ` ${plural(score.ignoredTriggers, 'trigger')} ignored.` : '';
  return `${clock(seconds)} long. ${caught} ${nothing}${ignored}`;
}

function stripText(clip: ClipShown): string {
  if (clip.area.kind === 'not measured') return 'The triggers over time.';
  const { measure, threshold } = clip.area;
  const what = measure === 'region' ? 'pixels of the largest connected region' : 'changed pixels';
  return `Grey: ${what} at threshold ${tidy(threshold)}, on a logarithmic scale.`;
}

const headings: Record<PictureKind, string> = {
  taken: 'Photos it would have taken',
  nothing: 'Photos that show nothing',
  missed: 'Visits it missed',
};

function pictures(kind: PictureKind, clip: ClipShown): Markup {
  const heading =
    kind === 'taken' && clip.labels.kind === 'labelled' ? `${headings.taken} of animals` : headings[kind];
  return pictureList(heading, clip.pictures[kind]);
}
