import { figure } from '../../base/figures.js';
import type { CauseName } from '../diagnosis.js';
import type { Measures } from './measures/measures.js';
import type { Rhythm } from './measures/rhythm.js';
import type { Told } from './model/cause.js';

/** A rhythm that explains less than this of what a place does counts as none. */
const RHYTHMIC = 0.2;
/** This near to half the frame rate, a rhythm may as well be a faster one in disguise. */
const NEAR_LIMIT = 0.9;

const names: Record<CauseName, string> = {
  wind: 'wind in vegetation',
  rain: 'rain',
  light: 'a change of light',
  noise: 'sensor noise',
  insect: 'an insect near the lens',
  shake: 'a shaken camera',
  shadow: 'a moving shadow',
  unknown: 'something new in view',
};

/** One plain sentence: what was measured that speaks for the cause. */
export function sentenceFor(told: Told, m: Measures, level: number): string {
  if (told.cause === 'unknown' && told.likeliest !== 'unknown') {
    return `Nothing stands out: ${names[told.likeliest]} is likeliest, and no more than a guess; ${facts.unknown(m, level)}.`;
  }
  const said = facts[told.cause](m, level);
  return `${said[0]?.toUpperCase()}${said.slice(1)}.`;
}

const facts: Record<CauseName, (m: Measures, level: number) => string> = {
  wind: ({ place, displacement }) =>
    `${changes(place)}${rhythmText(place.rhythm)}${place.remains < 0.4 ? ', and returns to where it was' : ''}; ${percent(displacement.elsewhere)} of the change is the background a few pixels off, as other moments show it`,
  rain: ({ extent, streaks, place }) =>
    `${streaks.upright > 0.4 ? 'thin upright streaks' : 'small short changes'}, in ${percent(extent.spread)} of the picture's parts at once; ${place.remains < 0.4 ? 'the place looks as before within seconds' : 'some of it stayed'}`,
  light: ({ direction, texture }, level) =>
    `${percent(direction.together)} of the picture went ${texture.ratio < 0 ? 'darker' : 'lighter'} together, by ${figure(direction.whole * level)} grey levels in the middle, and what is in it stayed the same`,
  noise: ({ direction }, level) =>
    `grain: the picture flickers by about ${figure(direction.noise * level)} grey levels from frame to frame, each spot by itself`,
  insect: ({ place, extent, texture }) =>
    `a ${texture.ratio < 0 ? 'dark' : 'pale'} shape over ${percent(extent.region)} of the picture, there for ${seconds(place.lasted)}, which was nowhere before and left the place as it was`,
  shake: ({ wholeShift }) =>
    `the whole picture moved by ${figure(Math.hypot(wholeShift.x, wholeShift.y))} pixels, which explains ${percent(wholeShift.explains)} of the change`,
  shadow: ({ texture, place }) =>
    `the patch went ${texture.ratio < 0 ? 'darker' : 'lighter'} by ${percent(Math.abs(2 ** texture.ratio - 1))} while what is in it can still be seen (${percent(Math.max(0, texture.kept))} alike), for ${seconds(place.lasted)}`,
  unknown: ({ displacement, place }) =>
    `the background of other moments, a few pixels off, explains ${percent(displacement.elsewhere)} of the change, and ${changes(place)}`,
};

/** How often the place changed, the trigger among it. */
function changes({ times, seconds: span }: Measures['place']): string {
  return times <= 1
    ? `the same patch changed only then in ${seconds(span)}`
    : `the same patch has changed ${times} times in ${seconds(span)}`;
}

function rhythmText(rhythm: Rhythm | null): string {
  if (!rhythm || rhythm.share < RHYTHMIC) return ', without a steady rhythm';
  if (rhythm.hertz > NEAR_LIMIT * rhythm.limit) {
    return `, too fast to tell the rhythm at ${figure(2 * rhythm.limit)} frames a second`;
  }
  return ` at about ${figure(rhythm.hertz)} Hz`;
}

function percent(share: number): string {
  const whole = 100 * share;
  return whole > 0 && whole < 1 ? 'less than 1 %' : `${Math.round(whole)} %`;
}

function seconds(x: number): string {
  return x < 0.05 ? 'one frame' : `${figure(x)} s`;
}
