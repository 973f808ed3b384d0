import { html, Markup } from './markup.js';
import { style } from './style.js';

/** The page fetches, runs and sends nothing, whatever a clip is called: its style and its pictures are within it. */
export const POLICY =
  "default-src 'none'; img-src data:; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";

/** What every page begins with, up to its body. @param styled its style sheet */
export function headOf(title: string, styled: string, policy = POLICY): Markup {
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${new Markup(policy)}">
<meta name="viewport" content="width=device-width,initial-scale=1">
<title>${title}</title>
<style>${new Markup(styled)}</style>
</head>
`;
}

/**
 * A report as one HTML file that needs nothing else: no scripts, no requests, and the same data give the same bytes.
 * @param note what stands under the title
 */
export function pageOf(title: string, note: string, body: Markup): string {
  return html`${headOf(title, style)}<body>
<header>
<h1>${title}</h1>
<p class="note">${note}</p>
</header>
${body}
</body>
</html>
`.text;
}
