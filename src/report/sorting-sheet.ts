import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { basename, dirname, relative, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { plural } from '../base/figures.js';
import { forgetThumbnail, type Thumbnail, thumbnailOf, thumbnailSide } from '../clip/thumbnail.js';
import { ofProgram } from '../files/of-program.js';
import type { EveningResult, SeenPhoto } from '../jobs/evening.js';
import type { OpenPorts } from '../jobs/ports.js';
import { burstsOf } from '../outing/evening/bursts.js';
import { hoursOfPhotos } from '../outing/evening/sections.js';
import { keyOf } from '../store/key.js';
import { hourTitle, PEOPLE_CAUTION, spanText } from '../words/evening-wording.js';
import { html, Markup } from './markup.js';
import { headOf } from './page.js';
import type { SheetGiven } from './sorting/given.js';
import { sheetStyle } from './sorting/style.js';

export interface SheetParts {
  evening: Pick<EveningResult, 'all' | 'folder'>;
  /** The file that it is written to, from which photos are linked to. */
  file: string;
  /** What the marks are saved as. */
  saveAs: string;
  /** How many photos the camera takes a trigger; null where nobody says. */
  burst: { photos: number; interval: number } | null;
  /** Whether photos marked as of people are left blank. */
  withoutPeople: boolean;
}

/** As built, from wherever this runs. */
const SCRIPT = fileURLToPath(new URL('../../dist/report/sorting/page.js', import.meta.url));
/** Thumbnails that are drawn at once. */
const IN_FLIGHT = 4;

/**
 * The sheet as an HTML file, piece by piece: every photo small and numbered, an hour a section, to be marked on the page. Its
 * script is its own; nothing is fetched and nothing is sent.
 */
export async function* sheetPieces(parts: SheetParts, ports: OpenPorts): AsyncGenerator<string> {
  const { all } = parts.evening;
  const script = await readFile(ofProgram(SCRIPT), 'utf8');
  yield head(parts.evening, script);
  ports.onPhase(`${parts.evening.folder}: drawing small pictures`);
  const times = all.map(({ time }) => time);
  const bursts = burstsOf(times, parts.burst);
  const pictures = drawn(all, parts, ports);
  for (const { hour, from, count } of hoursOfPhotos(times)) {
    yield `<section data-from="${from}" data-count="${count}"><h2><span>${html`${hourTitle(hour, times)}`.text}</span><button type="button" class="rest"></button></h2>\n<ol>\n`;
    for (let i = from; i < from + count; i++) {
      ports.onProgress(i, all.length);
      const { value } = await pictures.next();
      yield tile(all[i]!, i, value as Picture, bursts[i] === bursts[i - 1]);
    }
    yield '</ol></section>\n';
  }
  yield foot(givenFor(parts, bursts), script);
}

/** A thumbnail, or why there is none. */
type Picture = Thumbnail | 'cannot be shown' | 'person, not shown';

/** Pictures in order, a few of them in the making. */
async function* drawn(
  photos: readonly SeenPhoto[],
  { withoutPeople }: SheetParts,
  { cache, signal }: OpenPorts,
): AsyncGenerator<Picture> {
  const side = thumbnailSide(photos.length);
  const draw = async (photo: SeenPhoto): Promise<Picture> => {
    if (withoutPeople && photo.seen === 'person') {
      await forgetThumbnail(photo, cache);
      return 'person, not shown';
    }
    return (await thumbnailOf(photo, side, cache)) ?? 'cannot be shown';
  };
  const waiting: Promise<Picture>[] = [];
  for (const photo of photos) {
    signal?.throwIfAborted();
    const picture = draw(photo);
    // Whoever waits for it is told.
    picture.catch(() => undefined);
    waiting.push(picture);
    if (waiting.length >= IN_FLIGHT) yield (await waiting.shift())!;
  }
  for (const picture of waiting) yield await picture;
}

function tile({ time, seen }: SeenPhoto, i: number, picture: Picture, joined: boolean): string {
  const at = time === null ? '' : new Date(time * 1000).toISOString().slice(11, 19);
  const shown =
    typeof picture === 'string'
      ? html`<span class="none">${picture}</span>`
      : html`<img src="data:image/jpeg;base64,${new Markup(picture.jpeg.toString('base64'))}" width="${picture.width}" height="${picture.height}" alt="" decoding="async" loading="lazy">`;
  return `${
    html`<li id="photo-${i + 1}"${joined ? new Markup(' class="joined"') : null} data-seen="${seen ?? 'open'}"><button type="button" class="photo" tabindex="-1" data-at="${at}">${shown}<span class="label"><span class="n">${i + 1}</span> <span class="mark">${seen ?? ''}</span> <span class="at">${at}</span></span></button></li>`
      .text
  }\n`;
}

function head({ all, folder }: SheetParts['evening'], script: string): string {
  const times = all.flatMap(({ time }) => time ?? []);
  const when = times.length > 0 ? `, ${spanText({ from: times[0]!, until: times.at(-1)! })}` : '';
  const hash = createHash('sha256').update(script).digest('base64');
  const policy = `default-src 'none'; img-src data:; style-src 'unsafe-inline'; script-src 'sha256-${hash}'; base-uri 'none'; form-action 'none'`;
  const title = `${plural(all.length, 'photo')}${when}`;
  return html`${headOf(title, sheetStyle, policy)}<body data-show="all">
<header>
<h1>${title}</h1>
<p class="note">${folder}. What did the camera see? Mark each photo; what is not marked counts neither way. This sheet shows people where they were photographed, so keep it to yourself.</p>
<details class="note screen"><summary>How to, and people in photos</summary><p>Press a picture to look at it, then Animal, Nothing or Person, or the keys A, N, P; it goes on to the next by itself. U takes the last step back, Delete takes a mark away, arrows go from picture to picture. Mark the animals of an hour first, then all others of it as nothing at one press. Pictures joined by a bar were taken within seconds.</p><p>${PEOPLE_CAUTION}</p></details>
<div class="choices screen"><label>Show <select id="show"><option value="all">all</option><option value="open">not marked</option><option value="animal">animal</option><option value="nothing">nothing</option><option value="person">person</option></select></label><label><input type="checkbox" id="together" checked>photos of a burst are marked together</label></div>
<noscript><p>This browser runs no scripts here: look through the pictures, and fill in the marks in a spreadsheet, a row a photo, in the same order.</p></noscript>
</header>
<main>
`.text;
}

function foot(given: SheetGiven, script: string): string {
  // No end of a script may stand within one.
  const data = JSON.stringify(given).replaceAll('<', '\\u003c');
  const key = (letter: string) => html`<span class="key"> ${letter}</span>`;
  return html`</main>
<aside id="stage" aria-label="The photo looked at">
<img id="large" alt="" hidden><p id="none" hidden></p>
<div class="about"><span id="which"></span><span id="burst" hidden></span><span id="name" class="note"></span><a id="open" target="_blank" rel="noopener">full size</a></div>
<div class="marks">
<button type="button" data-mark="animal">Animal${key('A')}</button>
<button type="button" data-mark="nothing">Nothing${key('N')}</button>
<button type="button" data-mark="person">Person${key('P')}</button>
</div>
<div class="more"><button type="button" id="undo">Undo${key('U')}</button><button type="button" data-mark="">No mark</button><button type="button" id="save">Save marks</button></div>
<div class="about"><span id="counts"></span><span id="unsaved" hidden>not saved yet</span></div>
<p id="said" class="note" aria-live="polite"></p>
</aside>
${scriptOf(data, ' type="application/json" id="given"')}
${scriptOf(script, '')}
</body>
</html>
`.text;
}

/** No tagged template: bundlers rewrite those that hold the end of a script, and bring a package of theirs along. */
function scriptOf(text: string, attributes: string): Markup {
  return new Markup(`<script${attributes}>${text}</script>`);
}

function givenFor({ evening, file, saveAs }: SheetParts, bursts: number[]): SheetGiven {
  const names = evening.all.map(({ name }) => name);
  const marks = evening.all.map(({ seen }) => seen);
  const to = relative(dirname(resolve(file)), resolve(evening.folder)).split(sep);
  const folder = to.map((part) => (part === '..' ? part : encodeURIComponent(part))).join('/');
  return {
    id: keyOf(names, marks).slice(0, 20),
    names,
    marks,
    bursts,
    folder: folder === '' ? '' : `${folder}/`,
    saveAs: basename(saveAs),
  };
}
