import { figure, plural, significant } from '../base/figures.js';
import type { Camera } from '../camera/description.js';
import type { EquallyGood } from '../fit/choice/as-good.js';
import { FEWEST } from '../fit/record.js';
import type { FitResult } from '../jobs/fit.js';
import { dialsText } from './wording.js';

/** F1 from which a description fires as the camera did, or much as it did. */
const GOOD = 0.95;
const SOME = 0.8;

const busyWords: Record<Camera['reference']['whileBusy'], string> = {
  continues: '',
  frozen: ', which stands still while it is busy',
  restarts: ', which starts anew after it was busy',
};

/** What a camera compares a frame with. */
export function referenceText(reference: Camera['reference']): string {
  const what =
    reference.kind === 'average'
      ? `an average over ${significant(reference.seconds, 3)} s`
      : reference.lag === 1
        ? 'the frame before'
        : `the frame ${reference.lag} frames back`;
  return `${what}${busyWords[reference.whileBusy]}`;
}

export function areaText(area: Camera['area']): string {
  return area === 'region' ? 'the largest connected region' : 'all changed pixels';
}

/** A description that does as well as the best, with the values that do. */
export function equallyGoodText({
  look,
  area,
  threshold,
  minimumArea,
  persistence,
  cooldown,
  atLeast,
  mostChanged,
  f1,
}: EquallyGood): string {
  const { width, height, smooth, reference, whileBusy } = look;
  const limit = mostChanged === null ? '' : `, mostChanged ${significant(mostChanged, 4)}`;
  const span = ({ from, to }: { from: number; to: number }) =>
    from === to ? significant(from, 4) : `${significant(from, 4)} to ${significant(to, 4)}`;
  return `${referenceText({ ...reference, whileBusy })}; ${width} x ${height} smoothed by ${smooth}; ${areaText(area)}; threshold ${span(threshold)}, minimumArea ${span(minimumArea)}, persistence ${span(persistence)}, cooldown ${span(cooldown)}${limit} (F1 ${f1.toFixed(3)})${atLeast ? '; so far at least, because no farther was looked' : ''}`;
}

/** The answer in one sentence. */
export function fitHeadline(result: FitResult): string {
  const {
    clip,
    tells,
    fired: { onClip, afterPause },
    agreement: { f1 },
  } = result;
  if (tells === 'too few' && onClip >= FEWEST) {
    return `${clip}: too little to tell: of ${plural(onClip, 'trigger')} on the clip all but ${afterPause} came as soon as it could fire again, as with any camera under which something never stops`;
  }
  if (tells === 'too few') {
    return `${clip}: too few to tell: ${plural(onClip, 'trigger')} on the clip, and below ${FEWEST} many cameras explain them by luck`;
  }
  const others = besidesFound(result).length;
  if (f1 >= GOOD && others > 0) {
    return `${clip}: found ${others + 1} descriptions that fire as the camera did, which this recording cannot tell apart`;
  }
  if (f1 >= GOOD && !result.toldApart) {
    return `${clip}: found a description that fires as the camera did, but this recording tells its threshold, minimumArea or cooldown only roughly`;
  }
  if (f1 >= GOOD) return `${clip}: found a description that fires as the camera did`;
  if (f1 >= SOME) return `${clip}: found a description that fires much as the camera did, but not always`;
  return `${clip}: no description that was tried fires as the camera did; this is the nearest`;
}

/** How well the description that was found agrees, with what F1 means. */
export function agreementText({
  agreement: { f1, matched, extra, missing, tolerance },
  heldOut,
}: Pick<FitResult, 'agreement' | 'heldOut'>): string {
  const all = `Of ${plural(matched + missing, 'trigger')} on the clip this camera fires ${matched} within ${figure(tolerance)} s, misses ${missing} and fires ${extra} more: F1 ${f1.toFixed(3)}, where 1 is all of them and no others.`;
  if (heldOut === null) return all;
  const warning =
    f1 >= GOOD && heldOut < SOME ? ' That is far less: on another recording it may fire otherwise.' : '';
  return `${all} With settings chosen by the first two thirds of the clip alone it comes to ${heldOut.toFixed(3)} on the last third.${warning}`;
}

/** Whether the owner's own description fires as the camera does; null where none was given. */
export function asGivenText({ asGiven }: Pick<FitResult, 'asGiven'>): string | null {
  if (!asGiven) return null;
  const {
    agreement: { f1, matched, missing, extra },
    controls,
    isWhole,
    offset,
  } = asGiven;
  const how = isWhole
    ? 'with the settings given'
    : `with its dials where they do best (${dialsText(controls)})`;
  const says =
    f1 >= GOOD
      ? 'It fires as your camera did.'
      : f1 >= SOME
        ? 'It fires much as your camera did, but not always.'
        : 'It does not fire as your camera did.';
  return `Your description, as given: ${matched} of ${plural(matched + missing, 'trigger')}, and ${extra} more, ${how}; offset ${offset.toFixed(1)} s. ${says}`;
}

/** What the offset is, in a sentence. */
export function offsetText({ offset, drift, agreement: { tolerance } }: FitResult): string {
  const runs = drift === 0 ? '' : `, and gains ${drift.toFixed(2)} s an hour`;
  const way = offset < 0 ? 'before' : 'after';
  return `The camera's times lie ${Math.abs(offset).toFixed(1)} s ${way} those of the clip (its clock and its shutter lag together, which photos cannot tell apart)${runs}. They are drawn by that; a time counts as the same within ${figure(tolerance)} s.`;
}

/** What is as good as the description that was found, which stands among the equally good. */
export function besidesFound(result: Pick<FitResult, 'camera' | 'settings' | 'equallyGood'>): EquallyGood[] {
  return result.equallyGood.filter((one) => !isFound(one, result));
}

function isFound(
  { look, area, persistence: { from, to } }: EquallyGood,
  {
    camera: { analysis, reference, area: counts },
    settings: { persistence },
  }: Pick<FitResult, 'camera' | 'settings'>,
): boolean {
  const { width, height, smooth, whileBusy } = look;
  const sees = [width, height, smooth, area, referenceText({ ...look.reference, whileBusy })];
  const found = [analysis.width, analysis.height, analysis.smooth, counts, referenceText(reference)];
  return sees.join() === found.join() && from <= persistence && persistence <= to;
}

/** What was found, as rows of a name and a value. */
export function foundRows({ camera, settings, offset, drift }: FitResult): [string, string][] {
  const { width, height, rate, smooth } = camera.analysis;
  return [
    ['compares with', referenceText(camera.reference)],
    ['frames', `${width} x ${height}, ${significant(rate, 3)} a second, smoothed by ${smooth}`],
    ['counts', areaText(camera.area)],
    ['threshold', figure(settings.threshold)],
    ['minimumArea', `${significant(settings.minimumArea, 6)} pixels`],
    [
      'mostChanged',
      settings.mostChanged < width * height
        ? `${significant(settings.mostChanged, 6)} pixels: where more changes it does not fire`
        : 'no limit is asked for by these times',
    ],
    ['persistence', plural(settings.persistence, 'frame')],
    ['cooldown', `${significant(settings.cooldown, 4)} s`],
    ['offset', `${offset.toFixed(1)} s: shutter lag and the camera's clock, together`],
    ...(drift === 0 ? [] : [['drift', `${drift.toFixed(2)} s an hour`] satisfies [string, string]]),
  ];
}
