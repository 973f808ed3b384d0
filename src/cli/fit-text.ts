import { figure, plural, significant } from '../base/figures.js';
import type { EquallyGood } from '../fit/explained.js';
import { FEWEST } from '../fit/record.js';
import type { FitResult } from '../jobs/fit.js';
import { areaText, equallyGoodText, referenceText } from '../words/fit-wording.js';
import { fold, listed, strong, table } from './terminal.js';
import { writtenText } from './write-settings.js';

/** Descriptions that are told of beside the best. */
const MOST_TOLD = 8;

/** The result of `fit` for people. */
export function fitText(result: FitResult, written: readonly string[]): string {
  const { camera, settings, agreement, offset, drift, equallyGood, record, assumed, notes, heldOut } = result;
  const { width, height, rate, smooth } = camera.analysis;
  const { f1, matched, extra, missing, tolerance } = agreement;
  const besides = equallyGood.filter((one) => !isFound(one, result));
  const others = besides.length - MOST_TOLD;
  return [
    strong(fold(headline(result))),
    fold(
      `Of ${plural(matched + missing, 'trigger')} on the clip this camera fires ${matched} within ${figure(tolerance)} s, misses ${missing} and fires ${extra} more: F1 ${f1.toFixed(3)}.${heldOut === null ? '' : ` Chosen by the first two thirds of the clip, the settings come to ${heldOut.toFixed(3)} on the last.`}`,
    ),
    table(
      ['', 'found'],
      [
        ['compares with', referenceText(camera.reference)],
        ['frames', `${width} x ${height}, ${significant(rate, 3)} a second, smoothed by ${smooth}`],
        ['counts', areaText(camera.area)],
        ['threshold', figure(settings.threshold)],
        ['minimumArea', `${significant(settings.minimumArea, 6)} pixels`],
        ['persistence', plural(settings.persistence, 'frame')],
        ['cooldown', `${significant(settings.cooldown, 4)} s`],
        ['offset', `${offset.toFixed(1)} s: shutter lag and the camera's clock, together`],
        ...(drift === 0 ? [] : [['drift', `${drift.toFixed(2)} s an hour`]]),
      ],
    ),
    ...listed('As good as that:', besides.slice(0, MOST_TOLD).map(equallyGoodText)),
    ...(others > 0 ? [`and ${plural(others, 'other')} (--json lists them all)`] : []),
    ...(record === null ? [] : [fold(`What would tell more: ${record}`)]),
    ...listed('Taken to be so:', assumed),
    ...notes.map((note) => fold(`${note.charAt(0).toUpperCase()}${note.slice(1)}.`)),
    ...writtenText(written),
  ].join('\n\n');
}

/** Whether a description is the one that was found, which stands among those as good. */
function isFound(
  { look, area, persistence: { from, to } }: EquallyGood,
  { camera: { analysis, reference, area: counts }, settings: { persistence } }: FitResult,
): boolean {
  const { width, height, smooth, whileBusy } = look;
  const sees = [width, height, smooth, area, referenceText({ ...look.reference, whileBusy })];
  const found = [analysis.width, analysis.height, analysis.smooth, counts, referenceText(reference)];
  return sees.join() === found.join() && from <= persistence && persistence <= to;
}

function headline({ clip, tells, fired: { onClip, afterPause }, agreement: { f1 } }: FitResult): string {
  if (tells === 'too few' && onClip >= FEWEST) {
    return `${clip}: too little to tell: of ${plural(onClip, 'trigger')} on the clip all but ${afterPause} came as soon as it could fire again, as with any camera under which something never stops`;
  }
  if (tells === 'too few') {
    return `${clip}: too few to tell: ${plural(onClip, 'trigger')} on the clip, and below ${FEWEST} many cameras explain them by luck`;
  }
  if (f1 >= GOOD) return `${clip}: found a description that fires as the camera did`;
  if (f1 >= SOME) return `${clip}: found a description that fires much as the camera did, but not always`;
  return `${clip}: no description that was tried fires as the camera did; this is the nearest`;
}

const GOOD = 0.95;
const SOME = 0.8;
