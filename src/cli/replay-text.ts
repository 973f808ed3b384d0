import { type Camera, keepsEvidence } from '../camera/description.js';
import type { ClipReplayed, ReplayResult } from '../jobs/replay.js';
import type { Score } from '../score/score.js';
import { byLuckText } from '../words/luck.js';
import { byBouts, clock, plural, rate, share } from '../words/ratios.js';
import { fold, strong, tableOrLists, terminalWidth } from './terminal.js';

/** What replaying found, for people. */
export function replayText({ clips: replayed, total }: ReplayResult, camera: Camera): string {
  const row = (name: string, seconds: number, triggers: number, score: Score, labelled: boolean) => [
    name,
    clock(seconds),
    String(triggers),
    ...(labelled
      ? [
          `${score.caught} of ${score.visits}`,
          share(score.recall),
          String(score.falseTriggers),
          rate(byBouts(score)),
          share(score.precision),
        ]
      : ['-', '-', '-', '-', '-']),
  ];
  const rows = replayed.map((r) =>
    row(
      r.simulated ? `${r.clip} (simulated)` : r.clip,
      r.seconds,
      r.triggers.length,
      r.score,
      r.counts !== null,
    ),
  );
  if (replayed.length > 1) {
    const sum = (of: (r: ClipReplayed) => number) => replayed.reduce((n, r) => n + of(r), 0);
    rows.push(
      row(
        'together',
        sum((r) => r.seconds),
        sum((r) => r.triggers.length),
        total,
        replayed.some((r) => r.counts),
      ),
    );
  }
  const heads = [
    'clip',
    'length',
    'triggers',
    'visits caught',
    'share, 90 %',
    'false triggers',
    'per hour, 90 %',
    'triggers right',
  ];
  const parts = [tableOrLists(heads, rows)];
  const unlabelled = replayed.filter((r) => r.counts === null).map((r) => r.clip);
  if (unlabelled.length > 0) {
    parts.push(
      fold(`Not scored, for there is no labels.json to hold the triggers against: ${unlabelled.join(', ')}.`),
    );
  }
  for (const r of replayed) parts.push(...details(r));
  if (!keepsEvidence(camera)) {
    parts.push(
      fold(
        `${camera.name}'s reference depends on its triggers, so these clips were replayed frame by frame.`,
      ),
    );
  }
  return parts.join('\n\n');
}

/** What was missed and what fired falsely, or when it fired where nothing can be told. */
function details(r: ClipReplayed): string[] {
  if (r.counts === null) {
    return r.triggers.length === 0
      ? []
      : [
          listed(
            `${r.clip}: fired at`,
            r.triggers.map((t) => clock(t.time)),
          ),
        ];
  }
  const missed = r.visits
    .filter((v) => !v.caught)
    .map((v) => `${clock(v.start)}-${clock(v.end)}${v.name ? ` ${v.name}` : ''}`);
  const lucky = r.visits
    .filter((v) => v.byLuck === true)
    .map((v) => `${clock(v.start)}-${clock(v.end)}${v.name ? ` ${v.name}` : ''}`);
  const nothing = r.triggers.filter((t) => t.verdict === 'false').map((t) => clock(t.time));
  return [
    ...(lucky.length > 0
      ? [
          listed(
            `${r.clip}: caught ${r.score.caught} of ${plural(r.score.visits, 'visit')}${byLuckText(r.score)}:`,
            lucky,
          ),
        ]
      : []),
    ...(missed.length > 0 ? [listed(`${r.clip}: missed ${plural(missed.length, 'visit')}:`, missed)] : []),
    ...(nothing.length > 0
      ? [listed(`${r.clip}: fired falsely ${plural(nothing.length, 'time')}:`, nothing)]
      : []),
  ];
}

const MOST_LISTED = 24;

function listed(head: string, entries: readonly string[]): string {
  const more =
    entries.length > MOST_LISTED ? ` and ${entries.length - MOST_LISTED} more (--json lists all)` : '';
  return `${strong(head)}\n${fold(entries.slice(0, MOST_LISTED).join(', ') + more, terminalWidth() - 2)
    .split('\n')
    .map((line) => `  ${line}`)
    .join('\n')}`;
}
