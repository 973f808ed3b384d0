import { html, Markup } from '../markup.js';
import { colour } from '../palette.js';
import { triggerShapes } from './strip.js';

const SHAPES = {
  circle: 'M8,4A4,4 0 1 1 8,12A4,4 0 1 1 8,4Z',
  times: 'M4.5,4.5L11.5,11.5M4.5,11.5L11.5,4.5',
  square: 'M4.5,4.5H11.5V11.5H4.5Z',
  triangle: 'M8,3.5L12.5,11.5H3.5Z',
} as const;

const band = (attributes: string) => `<rect x="1" y="2" width="18" height="12" ${attributes}/>`;
const lines = `<path d="M1,14L13,2M7,14L19,2M1,8L7,2M13,14L19,8" stroke="${colour('ignored')}" fill="none"/>`;

/** How to read the strips, drawn with the shapes they use. */
export function legend(): Markup {
  const triggers = Object.values(triggerShapes).map(({ symbol, role, filled, text }) =>
    item(
      `<path d="${SHAPES[symbol]}" stroke="${colour(role)}" stroke-width="1.8" fill="${filled ? colour(role) : 'none'}"/>`,
      16,
      `fired: ${text}`,
    ),
  );
  const bands = [
    item(band(`fill="${colour('caught')}" fill-opacity="0.22"`), 20, 'a visit, caught'),
    item(band(`fill="none" stroke="${colour('caught')}" stroke-dasharray="3 2"`), 20, 'a visit, missed'),
    item(lines, 20, 'time that counts for nothing'),
    item(
      `<path d="M0,8H20" stroke="${colour('ink')}" stroke-dasharray="5 3"/>`,
      20,
      'least area that counts',
    ),
  ];
  return html`<ul class="legend">${[...triggers, ...bands]}</ul>
<p class="note">Triggers too close to be told apart share one mark. In the photos the region that fired is hatched: it is where something moved, a moment before the photo. In missed visits the animal is framed where the labels give its place.</p>`;
}

function item(shape: string, width: number, text: string): Markup {
  return html`<li>${new Markup(`<svg width="${width}" height="16" viewBox="0 0 ${width} 16" aria-hidden="true">${shape}</svg>`)}${text}</li>`;
}
