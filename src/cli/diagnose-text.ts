import type { ClipDiagnosis, Diagnosis, ExplainedTrigger, MissedVisit } from '../diagnose/diagnosis.js';
import { busiestMinute, byCause, type CauseCount } from '../diagnose/triggers/by-cause.js';
import { needsText, type Present } from '../words/change-wording.js';
import {
  causesText,
  causeText,
  causeWords,
  exactNote,
  luckText,
  minuteText,
  modelNote,
  reasonText,
  sentence,
  whereText,
} from '../words/diagnosis-wording.js';
import { clock, plural, share } from '../words/ratios.js';
import { taughtText } from '../words/teach-wording.js';
import { adviceText, curesText } from './cures-text.js';
import { faint, fold, item, strong, table } from './terminal.js';

/** What a diagnosis found, for people. */
export function diagnosisText(diagnosis: Diagnosis, now: Present): string {
  const { clips } = diagnosis;
  const explained = clips.flatMap((clip) => clip.explained);
  const labelled = clips.filter(({ judged }) => judged.counts);
  const several = clips.filter((clip) => clip.explained.length > 0).length > 1;
  return [
    ...clips.flatMap((clip) => clipText(clip, now)),
    ...(several ? [together(explained)] : []),
    ...(diagnosis.taught ?? []).map((taught) => fold(taughtText(taught))),
    ...(labelled.length > 0 ? [curesText(diagnosis, now)] : []),
    ...adviceText(explained),
    ...notes(explained.length > 0, labelled.length > 0),
  ].join('\n\n');
}

function clipText(clip: ClipDiagnosis, now: Present): string[] {
  const counts = byCause(clip.explained);
  const luck = luckText(clip);
  return [
    strong(fold(headline(clip, counts))),
    ...(clip.judged.counts
      ? []
      : [
          fold(
            'It has no labels, so nothing tells which of these triggers were false: each is explained as if it were. What was missed and which cures help cannot be told either; write a labels.json to know.',
          ),
        ]),
    ...(counts.length > 0 ? [causeTable(counts), examples(counts)] : []),
    ...missedText(clip, now),
    ...(luck ? [fold(luck)] : []),
  ];
}

/** log-pile: fired falsely 41 times. Wind in vegetation 34, rain 7. */
function headline(
  { clip: name, simulated, judged, explained }: ClipDiagnosis,
  counts: readonly CauseCount[],
): string {
  const clip = simulated ? `${name} (simulated)` : name;
  if (!judged.counts) {
    return explained.length === 0
      ? `${clip}: never fired.`
      : `${clip}: fired ${plural(explained.length, 'time')}. ${causesText(counts)}`;
  }
  return explained.length === 0
    ? `${clip}: never fired falsely.`
    : `${clip}: fired falsely ${plural(explained.length, 'time')}. ${causesText(counts)}`;
}

function causeTable(counts: readonly CauseCount[]): string {
  const rows = counts.map(({ cause, triggers, share: of }) => [
    causeWords[cause],
    String(triggers.length),
    share(of),
    whereText(triggers.map(({ box }) => box)),
    clock(triggers[0]?.time ?? 0),
    minuteText(busiestMinute(triggers)),
  ]);
  return table(['likely cause', 'times', 'share, 90 %', 'mostly', 'first', 'most in'], rows);
}

/** The surest of each cause. */
function examples(counts: readonly CauseCount[]): string {
  const lines = counts.map(({ strongest }) =>
    item(`${clock(strongest.time, 1)}`, `${causeText(strongest)}. ${sentence(strongest.evidence)}`),
  );
  const all = counts.reduce((n, { triggers }) => n + triggers.length, 0);
  return [
    strong('The surest of each cause'),
    ...lines,
    ...(all > lines.length ? [faint(`  ${lines.length} of ${all}; --json and --report list all`)] : []),
  ].join('\n');
}

/** Missed visits shown one by one. */
const MOST_MISSED = 24;

function missedText({ judged, missed }: ClipDiagnosis, now: Present): string[] {
  if (!judged.counts) return [];
  const { visits } = judged.counts;
  if (visits === 0) return ['No animal came, so none was missed.'];
  if (missed.length === 0) return [`Missed none: ${visits} of ${plural(visits, 'visit')} caught.`];
  const lines = missed.slice(0, MOST_MISSED).map((visit) => missedLines(visit, now));
  const more = missed.length - lines.length;
  return [
    [
      strong(`Missed ${missed.length} of ${plural(visits, 'visit')}:`),
      ...lines,
      ...(more > 0 ? [faint(`  and ${more} more; --json and --report list all`)] : []),
    ].join('\n'),
  ];
}

function missedLines(missed: MissedVisit, now: Present): string {
  const { start, end, name, evidence, needs } = missed;
  return item(
    `${clock(start)}-${clock(end)}`,
    `${name ?? 'an animal'}: ${reasonText(missed)}. ${sentence(evidence)} ${needsText(needs, now)}`.trimEnd(),
  );
}

function together(explained: readonly ExplainedTrigger[]): string {
  return fold(`All clips together, ${explained.length} explained. ${causesText(byCause(explained))}`);
}

function notes(explained: boolean, labelled: boolean): string[] {
  const lines = [...(explained ? [modelNote] : []), ...(labelled ? [exactNote] : [])];
  return lines.length === 0 ? [] : [fold(lines.join(' '))];
}
