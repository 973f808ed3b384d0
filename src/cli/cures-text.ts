import { adviceFor } from '../diagnose/advice.js';
import type { Diagnosis, ExplainedTrigger } from '../diagnose/diagnosis.js';
import type { Polygon } from '../engine/mask.js';
import { addedTo, cureText, onAllText, type Present, provedText } from '../words/change-wording.js';
import { causeWords, practiceNote } from '../words/diagnosis-wording.js';
import { faint, fold, item, strong, terminalWidth } from './terminal.js';

/** Cures shown one by one. */
const MOST_CURES = 8;

/** The cures that hold, each with its measured effect; and what was not tried or did not hold. */
export function curesText({ cures, notes }: Diagnosis, now: Present): string {
  const said = notes.map((note) => fold(note));
  if (cures.length === 0) return [strong('What would help'), ...said].join('\n');
  const lines = cures.slice(0, MOST_CURES).map((cure, i) => {
    const added = cure.kind === 'mask' ? addedTo(now.mask, cure.settings.mask) : [];
    return [
      `  ${i + 1}. ${fold(cureText(cure, now), terminalWidth() - 5).replaceAll('\n', '\n     ')}`,
      item('   on all of it', onAllText(cure), 22),
      item('   on the other half', provedText(cure), 22),
      ...(added.length > 0 ? [item('   to paste', `"mask": ${pasted(cure.settings.mask ?? [])}`, 22)] : []),
    ].join('\n');
  });
  const more = cures.length - lines.length;
  return [
    strong('What would help, first what loses no visit'),
    ...lines,
    ...(more > 0 ? [faint(`  and ${more} more; --json lists all`)] : []),
    fold(
      'Each was worked out on one half of the footage; "on the other half" is how it did where it was not chosen, share with 90 % interval.',
    ),
    ...said,
  ].join('\n');
}

/** A mask as a settings file has it, on as few lines as can be. */
function pasted(mask: readonly Polygon[]): string {
  return JSON.stringify(mask).replaceAll('],[', '], [');
}

/** What can be done at the camera itself, for the causes that fired it. */
export function adviceText(explained: readonly ExplainedTrigger[]): string[] {
  const advice = adviceFor(explained);
  if (advice.length === 0) return [];
  const care = [...new Set(advice.flatMap((a) => a.care))];
  return [
    [
      strong('What helps at the camera itself'),
      fold(practiceNote),
      ...advice.map(({ cause, practice }) => item(causeWords[cause], practice.join(' '), 24)),
      ...care.map((text, i) => item(i === 0 ? 'take care' : '', text, 24)),
    ].join('\n'),
  ];
}
