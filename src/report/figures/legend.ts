import { VERDICT_MARKS } from '../../words/verdict-marks.js';
import type { ClipShown, Picture } from '../data.js';
import { html, Markup } from '../markup.js';
import { colour } from '../palette.js';
import { triggerShapes } from './strip.js';

const band = (attributes: string) => `<rect x="1" y="2" width="18" height="12" ${attributes}/>`;
const lines = `<path d="M1,14L13,2M7,14L19,2M1,8L7,2M13,14L19,8" stroke="${colour('ignored')}" fill="none"/>`;

/** How to read the strips and the photos, drawn with the shapes they use: of all that there is what occurs. */
export function legend(clips: readonly ClipShown[], pictures: readonly Picture[]): Markup {
  const verdicts = new Set(clips.flatMap(({ triggers }) => triggers.map((t) => t.verdict ?? 'unjudged')));
  const labelled = clips.flatMap(({ labels }) => (labels.kind === 'labelled' ? [labels] : []));
  const visits = labelled.flatMap((labels) => labels.visits);
  const triggers = Object.entries(triggerShapes)
    .filter(([verdict]) => verdicts.has(verdict as keyof typeof triggerShapes))
    .map(([verdict, { role, filled, text }]) =>
      item(
        `<path d="${VERDICT_MARKS[verdict as keyof typeof VERDICT_MARKS]}" stroke="${colour(role)}" stroke-width="1.8" fill="${filled ? colour(role) : 'none'}"/>`,
        16,
        `fired: ${text}`,
      ),
    );
  const bands: [boolean, string, string][] = [
    [visits.some((v) => v.caught), band(`fill="${colour('caught')}" fill-opacity="0.22"`), 'a visit, caught'],
    [
      visits.some((v) => !v.caught),
      band(`fill="none" stroke="${colour('caught')}" stroke-dasharray="3 2"`),
      'a visit, missed',
    ],
    [labelled.some(({ ignored }) => ignored.length > 0), lines, 'time that counts for nothing'],
    [
      clips.some(({ area }) => area.kind === 'measured'),
      `<path d="M0,8H20" stroke="${colour('ink')}" stroke-dasharray="5 3"/>`,
      'least area that counts',
    ],
  ];
  const shown = bands.filter(([occurs]) => occurs).map(([, shape, text]) => item(shape, 20, text));
  const notes = [
    ...(verdicts.size > 0 ? ['Triggers too close to be told apart share one mark.'] : []),
    ...(pictures.some(({ hatched }) => hatched)
      ? [
          'In the photos the region that fired is hatched, or outlined where it is small: it is where something moved, a moment before the photo.',
        ]
      : []),
    ...(clips.some((clip) => clip.pictures.missed.pictures.length > 0)
      ? ['In missed visits the animal is framed where the labels give its place.']
      : []),
    ...(pictures.some(({ closeUp }) => closeUp)
      ? ['Below a photo stands a close-up of what is marked.']
      : []),
  ];
  return html`<ul class="legend">${[...triggers, ...shown]}</ul>
<p class="note">${notes.join(' ')}</p>`;
}

function item(shape: string, width: number, text: string): Markup {
  return html`<li>${new Markup(`<svg width="${width}" height="16" viewBox="0 0 ${width} 16" aria-hidden="true">${shape}</svg>`)}${text}</li>`;
}
