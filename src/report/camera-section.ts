import type { CamerasCompared } from '../jobs/tune/cameras.js';
import { CAMERA_HEADS, CAMERA_HEADS_MEAN, cameraRows, explainCameras } from '../words/cameras.js';
import { html, type Markup } from './markup.js';

/** Where the page's links find it. */
export const CAMERAS_ID = 'cameras';

/** Several cameras held against the first of them. */
export function cameraSection(compared: CamerasCompared): Markup {
  const rows = cameraRows(compared.cameras).map(
    (cells) => html`<tr>${cells.map((cell) => html`<td>${cell}</td>`)}</tr>
`,
  );
  return html`<section class="together">
<h2 id="${CAMERAS_ID}">Which camera?</h2>
<p>Each tuned on the same clips by its dials alone, without new masks.</p>
<div class="scroll"><table><thead><tr>${CAMERA_HEADS.map((head) => html`<th>${head}</th>`)}</tr></thead><tbody>
${rows}</tbody></table></div>
<p class="note">${CAMERA_HEADS_MEAN}</p>
${explainCameras(compared).map((sentence) => html`<p>${sentence}</p>\n`)}</section>
`;
}
