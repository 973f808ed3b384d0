import type { Polygon } from '../engine/mask.js';
import type { WeatherRow } from '../words/weather-rows.js';
import { type Between, figureBetween, percentBetween } from '../words/wording.js';
import { cardStyle } from './card-style.js';
import type { Backdrop } from './diagnosis-data.js';
import { smallDialFigure } from './figures/dial.js';
import { groundImage, placeMap } from './figures/place-map.js';
import { html, Markup } from './markup.js';
import { headOf } from './page.js';

/** One page for one site, to print or to carry along, as plain data. */
export interface Card {
  site: string;
  camera: string;
  /** The dials from the top row on: for all weather, then for each kind of it. */
  rows: readonly WeatherRow[];
  /** Whether to change the dials with the weather. */
  advice: string;
  expected: Expected | ExpectedIn;
  /** What the camera should not watch; null for no mask. */
  mask: { polygons: readonly Polygon[]; backdrop: Backdrop } | null;
  caution: string;
  /** Down to which light it is of use; null where that is not known. */
  limit: string | null;
}

/** In a day, 90 %; null where it cannot be told. */
export interface Expected {
  /** Share of the visits caught: how many come in a day, a recording of hours with visits does not tell. */
  recall: Between | null;
  photosOfNothing: Between | null;
  /** Over how long, and why so long. */
  day: string;
}

/** The same of other hours than a day, said in lines of its own. */
export interface ExpectedIn {
  heading: string;
  lines: readonly (readonly [what: string, between: string])[];
  note: string;
}

/** A card as one HTML file: A5 on paper, one screen on a phone; the same data gives the same bytes. */
export function cardHtml(card: Card): string {
  const { site, camera, rows, advice, mask, caution, limit } = card;
  const page = html`${headOf(`${site}: how to set the ${camera}`, cardStyle)}<body>
<header><h1>${site}</h1><p class="note">${camera}</p></header>
${dialsTable(rows)}
<p class="advice">${advice}</p>
${limit === null ? null : html`<p class="advice">${limit}</p>\n`}<div class="below">
${mask ? maskFigure(mask, site) : null}${expectedPart(card.expected)}</div>
<footer class="note">${caution}</footer>
</body>
</html>
`;
  return page.text;
}

function dialsTable(rows: readonly WeatherRow[]): Markup {
  const names = rows[0]?.dials.map(({ name }) => html`<th scope="col">${breakable(name)}</th>`) ?? [];
  return html`<table><thead><tr><td></td>${names}</tr></thead><tbody>
${rows.map(
  (
    { weather, when, note, dials },
    r,
  ) => html`<tr><th scope="row">${weather}<span>${when}</span>${note === null ? null : html`<span class="source">${note}</span>`}</th>${dials.map(
    (dial, d) =>
      html`<td${dial.turned ? null : html` class="same"`}>${new Markup(smallDialFigure(dial, `dial-${r + 1}-${d + 1}`))}</td>`,
  )}</tr>
`,
)}</tbody></table>`;
}

/** A long name may go on in the next line where one of its words begins: minimumArea. */
function breakable(name: string): Markup {
  const words = name.split(/(?<=[a-z0-9])(?=[A-Z])|(?<=[_-])/);
  return html`${words.map((word, i) => html`${i === 0 ? null : new Markup('<wbr>')}${word}`)}`;
}

function maskFigure(
  { polygons, backdrop: { address, aspect } }: NonNullable<Card['mask']>,
  site: string,
): Markup {
  const map = {
    backdrop: address === null ? null : 'scene',
    aspect,
    masked: polygons,
    proposed: [],
    counted: null,
  };
  return html`<figure>${address === null ? null : new Markup(groundImage('scene', address, aspect))}${new Markup(placeMap(map, 'mask', `${site}: the mask`))}<figcaption>Mask what is dotted: it is not watched.</figcaption></figure>
`;
}

function expectedPart(expected: Expected | ExpectedIn): Markup {
  const { heading, lines, note } = 'lines' in expected ? expected : inADay(expected);
  return html`<section><h2>${heading}</h2>
<dl>
${lines.map(
  ([what, between]) => html`<dt>${what}</dt><dd>${between}</dd>
`,
)}</dl>
<p class="note">${note}</p></section>
`;
}

function inADay({ recall, photosOfNothing, day }: Expected): ExpectedIn {
  return {
    heading: 'Expect in a day',
    lines: [
      ['of the visits', recall ? percentBetween(recall) : TOO_LITTLE],
      ['photos of nothing', photosOfNothing ? figureBetween(photosOfNothing) : TOO_LITTLE],
    ],
    note: day,
  };
}

const TOO_LITTLE = 'too little to tell';
