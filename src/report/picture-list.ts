import { plural } from '../words/wording.js';
import { html, type Markup } from './markup.js';
import type { Picture, PictureGroup } from './picture-data.js';

/** Pictures under their heading, with how many more there are; nothing where there are none. */
export function pictureList(heading: string, group: PictureGroup): Markup {
  if (group.pictures.length === 0 && group.more === 0 && group.people === 0) return html``;
  return html`<h4>${heading}</h4>
<div class="pictures">
${group.pictures.map(
  (
    picture,
  ) => html`<figure><img src="${picture.address}" width="${picture.width}" height="${picture.height}" alt="${`${heading}: ${picture.caption}`}">${closeUp(picture)}
<figcaption>${picture.caption}${picture.blurred ? ' (a person is blurred)' : null}</figcaption></figure>
`,
)}</div>
${after(group)}`;
}

function closeUp({ closeUp: close, caption }: Picture): Markup | null {
  if (!close) return null;
  return html`<img class="close" src="${close.address}" width="${close.width}" height="${close.height}" alt="${`Close-up: ${caption}`}">`;
}

function after({ pictures, more, people }: PictureGroup): Markup | null {
  const lines = [
    ...(more > 0 ? [`${pictures.length > 0 ? 'and ' : ''}${more} more.`] : []),
    ...(people > 0 ? [`${plural(people, 'picture')} left out: a person may be in view.`] : []),
  ];
  return lines.length === 0 ? null : html`<p class="note">${lines.join(' ')}</p>`;
}
