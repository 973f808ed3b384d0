import { plural } from '../../../base/figures.js';
import type { Labels, Stretch } from '../../../score/labels.js';
import type { NotHeld, Outgoing, Written } from '../format.js';
import { recordingId } from '../recording.js';
import { vttTime } from './clock.js';
import { causeText, ignoredText, visitText } from './payload.js';

/** How the comment begins that holds what is no cue. */
export const OWN_NOTE = 'NOTE perchmark';
/** What it holds. */
export type OwnNote = Pick<Labels, 'reviewed' | 'mask' | 'foliage'>;

/** WebVTT has times to the millisecond, and no cue that ends as it begins. */
const SHORTEST = 0.001;

interface Cue extends Stretch {
  id: string;
  text: string;
}

/** Visits, ignored stretches and causes as cues in order of their starts; what is no stretch of time in a comment. */
export function writeWebVtt({ name, labels, clip }: Outgoing): Written {
  const { visits, ignored = [], causes = [], reviewed, mask, foliage } = labels;
  const cues: Cue[] = [
    ...visits.map((visit, i) => ({ ...visit, id: `visit ${i + 1}`, text: visitText(visit) })),
    ...ignored.map(({ start, end, why }, i) => ({
      start,
      end,
      id: `ignored ${i + 1}`,
      text: ignoredText(why),
    })),
    ...causes.map(({ start, end, cause }, i) => ({
      start,
      end,
      id: `cause ${i + 1}`,
      text: causeText(cause),
    })),
  ];
  const own: OwnNote = { ...(reviewed && { reviewed }), ...(mask && { mask }), ...(foliage && { foliage }) };
  const blocks = [
    'WEBVTT',
    `NOTE\nWhat was in view when, as labelled by hand. Lines of key: value and the identifiers\nof cues are for programs; "type: ignored" is time that does not count.\nRecording ${recordingId(clip.contentKey)}`,
    ...(Object.keys(own).length > 0 ? [`${OWN_NOTE}\n${JSON.stringify(own)}`] : []),
    ...[...cues].sort((a, b) => a.start - b.start || b.end - a.end).map(cueText),
  ];
  return {
    files: [{ name: `${name}.vtt`, pieces: () => [`${blocks.join('\n\n')}\n`] }],
    notHeld: [...fractions(cues), ...moments(cues), ...inNote(own)],
    notes:
      clip.source.kind === 'video'
        ? []
        : ['a player shows the cues over a video alone, and this clip is stills'],
  };
}

function cueText({ id, start, end, text }: Cue): string {
  // After rounding, so that what lasts less than a millisecond does too.
  const from = Math.round(start * 1000) / 1000;
  const to = Math.max(Math.round(end * 1000) / 1000, from + SHORTEST);
  return `${id}\n${vttTime(from)} --> ${vttTime(to)}\n${text}`;
}

function fractions(cues: readonly Cue[]): NotHeld[] {
  const lost = cues
    .flatMap(({ start, end }) => [start, end])
    .map((time) => Math.abs(time - Math.round(time * 1000) / 1000))
    .filter((off) => off > 1e-9);
  if (lost.length === 0) return [];
  const most = Number((lost.reduce((most, one) => Math.max(most, one)) * 1000).toPrecision(2));
  return [
    {
      what: 'fractions of a millisecond',
      count: lost.length,
      kept: null,
      says: `${plural(lost.length, 'time')} ${lost.length === 1 ? 'is' : 'are'} up to ${most} ms off, in whole milliseconds`,
    },
  ];
}

function moments(cues: readonly Cue[]): NotHeld[] {
  const count = cues.filter(({ start, end }) => Math.round(end * 1000) <= Math.round(start * 1000)).length;
  if (count === 0) return [];
  return [
    {
      what: 'stretches without length',
      count,
      kept: null,
      says: `${plural(count, 'stretch', 'stretches')} without a length: a millisecond long in the file`,
    },
  ];
}

const words: Readonly<Record<keyof OwnNote, string>> = {
  reviewed: 'what was looked through',
  mask: 'what is not watched',
  foliage: 'what can sway',
};

function inNote(own: OwnNote): NotHeld[] {
  return (Object.keys(own) as (keyof OwnNote)[]).map((what) => ({
    what,
    count: own[what]?.length ?? 0,
    kept: 'a comment',
    says: `${words[what]} is no cue; kept for this program in a comment of the file`,
  }));
}
