import { wilson } from '../score/intervals.js';
import { causeWords, practiceNote } from '../words/diagnosis-wording.js';
import { percentBetween } from '../words/wording.js';
import type { CureShown, DiagnosedClip, DiagnosisShown } from './diagnosis-data.js';
import { placeMap } from './figures/place-map.js';
import { html, Markup } from './markup.js';

/** Mask cures drawn each on a map of its own. */
const MOST_MAPS = 6;

/** What would help: cures with their measured effect, then what is common practice. */
export function cureSections(shown: DiagnosisShown): Markup {
  return html`${shown.clips.some(({ labelled }) => labelled) ? curesSection(shown) : null}${adviceSection(shown)}`;
}

function curesSection({ cures, notes, clips }: DiagnosisShown): Markup {
  const said = notes.map((note) => html`<p>${note}</p>\n`);
  if (cures.length === 0) return html`<section><h2 id="helps">What would help</h2>\n${said}</section>\n`;
  const rows = cures.map(({ words, falseRemoved, visitsLost, visitsGained, of, proof }, i) => {
    const gained = visitsGained > 0 ? `, ${visitsGained} more caught` : '';
    return html`<tr><td>${i + 1}. ${words}</td><td class="text">${falseRemoved} of ${of.falseTriggers}<br>${onOther(proof.falseRemoved, proof.falseTriggers)}</td><td class="text">${visitsLost} of ${of.caught}${gained}<br>${onOther(proof.visitsLost, proof.caught)}</td></tr>
`;
  });
  return html`<section>
<div class="together">
<h2 id="helps">What would help</h2>
<p>First what loses no visit, then by triggers gone for each visit lost. Each cure was worked out on one half of the footage; how it did on the other half stands below, with its 90 % interval. Cures that did not hold there are left out.</p>
<div class="scroll"><table class="told"><thead><tr><th>cure</th><th class="text">false triggers gone</th><th class="text">visits lost</th></tr></thead><tbody>
${rows}</tbody></table></div>
</div>
${said}${cureMaps(cures, clips)}</section>
`;
}

/** Each mask on the picture of a clip that it is for. */
function cureMaps(cures: readonly CureShown[], clips: DiagnosisShown['clips']): Markup | null {
  const maps = cures.flatMap((cure, i) => {
    if (cure.kind !== 'mask') return [];
    const own = clips.filter(({ labelled, dir }) => labelled && (!cure.clips || cure.clips.includes(dir)));
    const clip = own.find(({ backdrop }) => backdrop.address !== null) ?? own[0];
    return clip ? [cureMap(cure, i + 1, clip, `backdrop-${clips.indexOf(clip) + 1}`)] : [];
  });
  if (maps.length === 0) return null;
  return html`<h4>The masks, dashed</h4>
<div class="pictures">
${maps.slice(0, MOST_MAPS)}</div>
`;
}

function cureMap(cure: CureShown, place: number, clip: DiagnosedClip, backdrop: string): Markup {
  const { address, aspect } = clip.backdrop;
  const map = {
    backdrop: address === null ? null : backdrop,
    aspect,
    masked: clip.mask,
    proposed: cure.added,
    counted: null,
  };
  return html`<figure>${new Markup(placeMap(map, `mask-${place}`, cure.words))}<figcaption>Cure ${place}, on ${clip.name}</figcaption></figure>
`;
}

function onOther(count: number, of: number): Markup {
  const ratio = wilson(count, of);
  return html`<span class="note">other half: ${count} of ${of}${ratio ? `, ${percentBetween(ratio)}` : null}</span>`;
}

function adviceSection({ advice }: DiagnosisShown): Markup | null {
  if (advice.length === 0) return null;
  const care = [...new Set(advice.flatMap((a) => a.care))];
  return html`<section class="together">
<h2>What helps at the camera itself</h2>
<p class="note">${practiceNote}</p>
<dl>
${advice.map(
  ({ cause, practice }) => html`<dt>${causeWords[cause]}</dt><dd>${practice.join(' ')}</dd>
`,
)}${
  care.length > 0
    ? html`<dt>take care</dt>${care.map(
        (text) => html`<dd>${text}</dd>
`,
      )}`
    : null
}</dl>
</section>
`;
}
