import { significant } from '../base/figures.js';
import type { CamerasCompared } from '../jobs/tune/cameras-told.js';
import { CAMERA_HEADS, CAMERA_HEADS_MEAN, cameraRows, explainCameras } from '../words/cameras.js';
import { html, type Markup } from './markup.js';

/** Where the page's links find it. */
export const CAMERAS_ID = 'cameras';

/** Several cameras held against the first of them. */
export function cameraSection(compared: CamerasCompared): Markup {
  const [name, , ...heads] = CAMERA_HEADS;
  const rows = cameraRows(compared.cameras).map(([camera, compares, ...cells], c) => {
    const pixels = significant(compared.cameras[c]!.pixelsPerSecond, 6);
    return html`<tr><td>${camera}</td>${cells.map((cell) => html`<td>${cell}</td>`)}</tr><tr class="more"><td colspan="${heads.length + 1}">compares ${compares}: ${pixels} pixels a second</td></tr>
`;
  });
  return html`<section class="together">
<h2 id="${CAMERAS_ID}">Which camera?</h2>
<p>Each tuned on the same clips by its dials alone, without new masks.</p>
<div class="scroll"><table><thead><tr><th>${name}</th>${heads.map((head) => html`<th>${head}</th>`)}</tr></thead><tbody>
${rows}</tbody></table></div>
<p class="note">${CAMERA_HEADS_MEAN}</p>
${explainCameras(compared).map((sentence) => html`<p>${sentence}</p>\n`)}</section>
`;
}
