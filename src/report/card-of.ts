import type { Camera } from '../camera/description.js';
import type { Settings } from '../camera/settings.js';
import type { Clip } from '../clip/open.js';
import type { Polygon } from '../engine/mask.js';
import type { OpenPorts } from '../jobs/ports.js';
import type { SiteResult } from '../jobs/tune.js';
import { siteName } from '../words/answer.js';
import { askedText, triedText } from '../words/asked.js';
import { limitLine } from '../words/explain-limit.js';
import { photosOfNothingOut, WHOLE_DAY } from '../words/photos-out.js';
import { rowsToSet, weatherAdvice } from '../words/weather-rows.js';
import { figure, plural, watched } from '../words/wording.js';
import { backdropOf } from './backdrop.js';
import { type Card, cardHtml, type Expected } from './card.js';
import { maskInForce } from './mask-in-force.js';

/**
 * The card of one site as one HTML file's text.
 * @param clips opened; those of the site are found among them
 * @param hoursOut a day; left out: all day
 * @throws whatever reading the clips throws
 */
export async function cardOf(
  site: SiteResult,
  clips: readonly Clip[],
  camera: Camera,
  hoursOut: number | undefined,
  ports: Pick<OpenPorts, 'onPhase'>,
): Promise<string> {
  const own = clips.filter(({ dir }) => site.clips.includes(dir));
  ports.onPhase(`${siteName(site)}: drawing the card`);
  return cardHtml({
    site: siteName(site),
    camera: camera.name,
    rows: rowsToSet(site, camera),
    advice: weatherAdvice(site),
    expected: expectedIn(site, camera, hoursOut),
    mask: await maskOf(site.recommended.settings, own),
    caution: cautionOf(site),
    limit: limitLine(site),
  });
}

/** Of unseen footage where it could be foretold, else as on these clips. */
export function expectedIn(
  site: Pick<SiteResult, 'recommended' | 'allowance'>,
  camera: Pick<Camera, 'burst'>,
  hoursOut: number | undefined,
): Expected {
  const { score, unseen } = site.recommended;
  const asked = askedText(site, camera, hoursOut);
  const by = unseen.recall ? `as ${triedText(site)}` : 'were all of it like the recording';
  return {
    recall: unseen.recall ?? score.recall,
    photosOfNothing: photosOfNothingOut(site, camera, hoursOut),
    day: `Over ${plural(Number(figure(hoursOut ?? WHOLE_DAY)), 'hour')} out${hoursOut === undefined ? ', because nothing else was said' : ''}, ${by}; in brackets 90\u00a0%.${asked === null ? '' : ` ${asked}`}`,
  };
}

/** The mask in force, over the first of the clips. */
export async function maskOf(
  settings: Settings & { mask?: Polygon[] },
  clips: readonly Clip[],
): Promise<Card['mask']> {
  const polygons = maskInForce(clips, settings);
  if (polygons.length === 0 || !clips[0]) return null;
  return { polygons, backdrop: await backdropOf(clips[0]) };
}

function cautionOf({ tells, recommended: { score } }: SiteResult): string {
  const hint = tells === 'hint' ? 'A hint only: it rests' : 'It rests';
  return `${hint} on ${plural(score.visits, 'visit')} and ${watched(score.watchedHours)}; when the season, the view or the camera changes, record and tune again.`;
}
