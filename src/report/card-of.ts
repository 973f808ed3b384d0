import type { Camera } from '../camera/description.js';
import type { Settings } from '../camera/settings.js';
import type { Clip } from '../clip/open.js';
import type { Polygon } from '../engine/mask.js';
import type { OpenPorts } from '../jobs/ports.js';
import type { SiteResult } from '../jobs/tune.js';
import { poissonRate } from '../score/intervals.js';
import { gaps, union } from '../score/stretches.js';
import { truthOf } from '../score/truth.js';
import { siteName } from '../words/answer.js';
import { limitLine } from '../words/explain-limit.js';
import { byBouts } from '../words/ratios.js';
import { rowsOf, weatherAdvice } from '../words/weather-rows.js';
import { figure, plural, watched } from '../words/wording.js';
import { backdropOf } from './backdrop.js';
import { type Card, cardHtml, type Expected } from './card.js';
import { maskInForce } from './diagnosis-shown.js';

/** Hours a day that a camera is out where nothing is said. */
const WHOLE_DAY = 24;

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
    rows: rowsOf(site, camera),
    advice: weatherAdvice(site),
    expected: expectedIn(site, countedHours(own), camera.burst.photos, hoursOut),
    mask: await maskOf(site.recommended.settings, own),
    caution: cautionOf(site),
    limit: limitLine(site),
  });
}

/** Of unseen footage where it could be foretold, else as on these clips. */
export function expectedIn(
  { recommended: { score, unseen } }: Pick<SiteResult, 'recommended'>,
  hours: number,
  photosPerTrigger: number,
  hoursOut: number | undefined,
): Expected {
  const a = hoursOut ?? WHOLE_DAY;
  const visits = poissonRate(score.visits, hours);
  const recall = unseen.recall ?? score.recall;
  const rate = unseen.falsePerHour ?? byBouts(score);
  return {
    visitsCaught: visits &&
      recall && {
        value: a * visits.value * recall.value,
        low: a * visits.low * recall.low,
        high: a * visits.high * recall.high,
      },
    photosOfNothing: rate && {
      value: a * photosPerTrigger * rate.value,
      low: a * photosPerTrigger * rate.low,
      high: a * photosPerTrigger * rate.high,
    },
    day: `Over ${plural(Number(figure(a)), 'hour')} out${hoursOut === undefined ? ', for none were given (--hours-out)' : ''}, were all of it like the recording; in brackets 90\u00a0%.`,
  };
}

/** Hours in which a visit would have been labelled. */
function countedHours(clips: readonly Clip[]): number {
  const seconds = clips.reduce((sum, { labels, seconds }) => {
    if (!labels) return sum;
    const { setAside, reviewed } = truthOf(labels, seconds);
    const not = union([...setAside, ...(reviewed ? gaps(reviewed, 0, seconds) : [])]);
    return gaps(not, 0, seconds).reduce((part, { start, end }) => part + Math.max(0, end - start), sum);
  }, 0);
  return seconds / 3600;
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
