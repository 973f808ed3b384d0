import { busiestMinute, byCause } from '../diagnose/triggers/by-cause.js';
import {
  causesText,
  causeWords,
  exactNote,
  minuteText,
  modelNote,
  reasonText,
  sentence,
  whereText,
} from '../words/diagnosis-wording.js';
import { clock, percentBetween, plural } from '../words/wording.js';
import { cureSections } from './cure-sections.js';
import type { DiagnosedClip, DiagnosisShown } from './diagnosis-data.js';
import { groundImage, type PlaceMark, placeMap } from './figures/place-map.js';
import { html, Markup } from './markup.js';
import { pictureList } from './picture-list.js';

/** A diagnosis: why it fired falsely, where, what it missed, and what would help. */
export function diagnosisSection(shown: DiagnosisShown): Markup {
  const { clips } = shown;
  const labelled = clips.some((clip) => clip.labelled);
  const proposed = clips.map((clip) => bestMask(shown, clip));
  return html`${clips.map(({ backdrop: { address, aspect } }, i) => (address === null ? html`` : new Markup(groundImage(`backdrop-${i + 1}`, address, aspect))))}
<section>
<h2 id="why">${labelled ? 'Why it fired falsely' : 'Why it fired'}</h2>
${clips.some(({ explained }) => explained.length > 0) ? html`<p class="note">${modelNote}</p>` : null}
${shown.taught.map(
  (text) => html`<p>${text}</p>
`,
)}${clips.map(whyText)}
</section>
<section>
<h2 id="where">Where</h2>
${clips.map((clip, i) => whereMaps(clip, i, proposed[i] ?? []))}
${mapKey(
  clips.some(({ mask }) => mask.length > 0),
  proposed.some((polygons) => polygons.length > 0),
)}</section>
${
  labelled
    ? html`<section>
<h2 id="missed">What it missed and why</h2>
<p class="note">${exactNote}</p>
${clips.filter((clip) => clip.labelled).map(missedText)}
</section>
`
    : null
}${cureSections(shown)}`;
}

/** What the best mask for a clip's place covers beside what is masked now. */
function bestMask({ cures }: DiagnosisShown, { dir, labelled }: DiagnosedClip): DiagnosedClip['mask'] {
  const best =
    labelled && cures.find(({ kind, clips }) => kind === 'mask' && (!clips || clips.includes(dir)));
  return best ? best.added : [];
}

function whyText(clip: DiagnosedClip): Markup {
  const { explained, name, pictures } = clip;
  const counts = byCause(explained);
  const rows = counts.map(
    ({ cause, triggers, share }) =>
      html`<tr><td>${causeWords[cause]}</td><td>${triggers.length}</td><td>${percentBetween(share)}</td><td class="text">${whereText(triggers.map(({ box }) => box))}</td><td>${clock(triggers[0]?.time ?? 0)}</td><td>${minuteText(busiestMinute(triggers))}</td></tr>
`,
  );
  return html`<div class="together"><h3>${name}</h3>
<p>${firedText(clip)} ${counts.length > 0 ? causesText(counts) : null}</p>
${
  rows.length > 0
    ? html`<div class="scroll"><table><thead><tr><th>likely cause</th><th>times</th><th>share, 90 %</th><th class="text">mostly</th><th>first</th><th>most in</th></tr></thead><tbody>
${rows}</tbody></table></div>`
    : null
}</div>
${pictureList('When it fired, and what fired it', pictures.fired)}
`;
}

function firedText({ labelled, explained }: DiagnosedClip): string {
  const times = plural(explained.length, 'time');
  if (labelled) return explained.length === 0 ? 'Never fired falsely.' : `Fired falsely ${times}.`;
  return explained.length === 0
    ? 'Never fired.'
    : `Fired ${times}. It has no labels, so nothing tells which of these were false: each is explained as if it were. Nor can people be left out of the pictures: look them through before you pass this file on.`;
}

function whereMaps(clip: DiagnosedClip, index: number, proposed: DiagnosedClip['mask']): Markup {
  const { name, places, backdrop, mask, labelled } = clip;
  const { columns, rows } = places;
  const panel = (heading: string, mark: PlaceMark, unit: string, counts: readonly number[]) => {
    const id = `where-${index + 1}-${mark}`;
    const map = {
      backdrop: backdrop.address === null ? null : `backdrop-${index + 1}`,
      aspect: backdrop.aspect,
      masked: mask,
      proposed,
      counted: { columns, rows, counts, mark, unit },
    };
    return html`<figure><figcaption>${heading}</figcaption>${new Markup(placeMap(map, id, `${name}: ${heading}`))}</figure>`;
  };
  return html`<div class="together"><h3>${name}</h3>
<div class="pair">
${panel(labelled ? 'Where it fired falsely' : 'Where it fired', 'square', 'triggers', places.explained)}
${labelled ? panel('Where animals were', 'shade', 'visits', places.animals) : null}
</div>
${backdrop.address === null ? html`<p class="note">No frame of this clip may be shown: a person may be in view in every one.</p>` : null}</div>
`;
}

/** How to read the outlines, where there are any. */
function mapKey(masked: boolean, proposed: boolean): Markup {
  const line = (dashes: string, text: string) =>
    html`<li>${new Markup(`<svg width="34" height="12" viewBox="0 0 34 12" aria-hidden="true"><path d="M2,6H32" stroke="var(--ink)" stroke-width="2.2" stroke-dasharray="${dashes}" stroke-linecap="${dashes === '8 4' ? 'butt' : 'round'}"/></svg>`)}${text}</li>`;
  return html`<ul class="legend">${masked ? line('1 4', 'masked now') : null}${proposed ? line('8 4', 'the mask that would help most') : null}</ul>
<p class="note">The area of a square goes with the number of triggers there; the darker a place, the more visits. A visit counts where something fired within its box, or all over its box where nothing did. Behind the marks: the scene, the middle of a few frames.</p>
`;
}

/** Missed visits that are listed one by one. */
const MOST_MISSED = 1000;

function missedText({ name, missed, visits, luck, pictures }: DiagnosedClip): Markup {
  const rows = missed.slice(0, MOST_MISSED).map(
    ({ start, end, name: who, why, note, evidence, needed }) =>
      html`<tr><td>${clock(start)}–${clock(end)}<br>${who ?? 'an animal'}</td><td class="text">${sentence(reasonText({ why, ...(note && { note }) }))} ${sentence(evidence)}</td><td class="text">${needed || 'Nothing that was tried.'}</td></tr>
`,
  );
  return html`<h3>${name}</h3>
<p>${missed.length === 0 ? noneMissed(visits) : `Missed ${missed.length} of ${plural(visits, 'visit')}.`}</p>
${luck ? html`<p>${luck}</p>` : null}
${
  rows.length > 0
    ? html`<div class="scroll"><table class="told"><thead><tr><th>visit</th><th class="text">why</th><th class="text">what would have caught it</th></tr></thead><tbody>
${rows}</tbody></table></div>${missed.length > rows.length ? html`<p class="note">The first ${rows.length} of them.</p>` : null}`
    : null
}
${pictureList('Visits it missed', pictures.missed)}
`;
}

function noneMissed(visits: number): string {
  return visits === 0
    ? 'No animal came, so none was missed.'
    : `Missed none: ${visits} of ${plural(visits, 'visit')} caught.`;
}
