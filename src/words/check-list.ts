import { quoted } from '../base/text.js';
import type { Checked, ClipChecked } from '../check/check.js';
import { type Differences, MOVED, type VisitNamed } from '../check/compare.js';
import type { Inference } from '../check/infer.js';
import type { CheckAbout } from '../jobs/check.js';
import { clock, plural } from './wording.js';

/** One kind of change on a clip, each entry by name and time. */
export interface ListedChange {
  what: string;
  entries: string[];
}

/** What happened on a clip, kind by kind, or why that cannot be told; none where nothing did. */
export function changesOf(clip: ClipChecked): ListedChange[] {
  const times = (triggers: readonly { time: number }[]) => triggers.map(({ time }) => clock(time, 1));
  const moved = clip.movedFalse.map(({ time, was }) => `${clock(was, 1)} to ${clock(time, 1)}`);
  const others = clip.newOther.length + clip.goneOther.length;
  const otherText = `${plural(clip.goneOther.length, 'trigger')} gone, ${clip.newOther.length} new`;
  return [
    { what: 'not comparable', entries: clip.why === null ? [] : [clip.why] },
    { what: 'newly lost', entries: clip.lost.map(visitText) },
    { what: 'gained', entries: clip.gained.map(visitText) },
    { what: 'new false triggers', entries: times(clip.newFalse) },
    { what: 'false triggers gone', entries: times(clip.goneFalse) },
    { what: `false triggers as before, moved by up to ${MOVED} s`, entries: moved },
    { what: 'in visits and in ignored time', entries: others > 0 ? [otherText] : [] },
    { what: 'mask', entries: clip.maskChanged ? ['another one than it was'] : [] },
  ].filter(({ entries }) => entries.length > 0);
}

/** Whether nothing changed that anything could be inferred from. */
export function nothingChanged({ tests }: Pick<Inference, 'tests'>): boolean {
  return tests.every(({ worse, better }) => worse + better === 0);
}

/** What is inferred for other footage, over all clips; null where there is nothing to infer it from. */
export function answersText({ tests }: Inference): string | null {
  const answers = tests
    .filter(({ clip }) => clip === null)
    .map(({ of, answer }) => `${of === 'visits' ? 'visits caught' : 'false triggers'}: ${answer}`);
  if (answers.length === 0) return null;
  if (nothingChanged({ tests })) {
    return 'Nothing changed in what is caught and in what it fires at falsely.';
  }
  return `${answers.join('; ')}.`;
}

/** 0:12.4-0:19.0 wren */
function visitText({ start, end, name }: VisitNamed): string {
  return `${clock(start, 1)}-${clock(end, 1)}${name === null ? '' : ` ${name}`}`;
}

/** What it was held against, and what changed besides the results; a line each. */
export function againstWhat({ changed, clips }: Checked, { against, before, command }: CheckAbout): string[] {
  const head = against
    ? command !== null
      ? `The command ${quoted(command)}, held against what the description gives with ${against.join(' and ')} ("was"): ${differText(clips)}.`
      : `${against.join(' and ')}, held against the suite's own camera and settings ("was").`
    : before === null
      ? 'Nothing was accepted for this suite yet, so there is nothing to compare with.'
      : `Held against the results accepted because: ${before}`;
  const fired = `Fired by the command ${quoted(command ?? '')}.`;
  return [
    ...(command !== null && !against ? [fired] : []),
    head,
    ...changed.map((line) => `${against ? 'Differs in' : 'Changed since'}: ${line}`),
  ];
}

/** How many triggers one of the two fires and the other does not, and how many come a little earlier or later. */
export function differText(clips: readonly ClipChecked[]): string {
  const count = (...lists: (keyof Differences)[]) =>
    clips.reduce((sum, clip) => sum + lists.reduce((n, list) => n + clip[list].length, 0), 0);
  const other = count('newFalse', 'goneFalse', 'newOther', 'goneOther');
  const moved = count('movedFalse');
  if (other + moved === 0) return 'no trigger differs';
  const movedText = `${plural(moved, 'trigger')} moved by up to ${MOVED} s`;
  if (other === 0) return movedText;
  const differs = `${plural(other, 'trigger')} ${other === 1 ? 'differs' : 'differ'}`;
  return moved === 0 ? differs : `${differs}, ${movedText}`;
}
