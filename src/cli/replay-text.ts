import type { Camera } from '../camera/description.js';
import { keepsEvidence } from '../camera/keeps-evidence.js';
import type { Settings } from '../camera/settings.js';
import { type ClipReplayed, type ReplayResult, resultOf } from '../jobs/replay.js';
import type { Score } from '../score/score.js';
import { byLuckText } from '../words/luck.js';
import { byBouts, clock, plural, quickest, rate, share } from '../words/ratios.js';
import { fold, strong, tableOrLists, terminalWidth } from './terminal.js';

/** What was replayed at one spot; `site` is null for clips that were named by hand. */
export interface SpotReplayed {
  site: string | null;
  camera: Camera;
  settings: Pick<Settings, 'cooldown'>;
  result: ReplayResult;
}

/** What replaying found, for people: the spots of a project have a line each, and then their clips. */
export function replayText(spots: readonly SpotReplayed[]): string {
  const replayed = spots.flatMap(({ result }) => result.clips);
  const { total } = resultOf(replayed);
  const bySpot = spots.flatMap(({ site, settings, result }) =>
    site === null ? [] : [spotRow(site, result.clips, result.total, settings)],
  );
  const byClip = spots.flatMap(({ settings, result }) =>
    result.clips.map((r) => clipRow(r.clip, [r], r.score, settings)),
  );
  const all = quickest(spots.map(({ settings }) => settings));
  if (replayed.length > 1) byClip.push(clipRow('together', replayed, total, all));
  if (bySpot.length > 1) bySpot.push(spotRow('together', replayed, total, all));
  const parts = [
    ...(bySpot.length > 0 ? [tableOrLists(SPOT_HEADS, bySpot)] : []),
    isScored(replayed)
      ? tableOrLists(CLIP_HEADS, byClip)
      : tableOrLists(
          CLIP_HEADS.slice(0, UNSCORED),
          byClip.map((row) => row.slice(0, UNSCORED)),
        ),
  ];
  const unlabelled = replayed.filter((r) => r.counts === null).map((r) => r.clip);
  if (unlabelled.length > 0) {
    parts.push(
      fold(
        `Not scored, because there is no labels.json to compare the triggers with: ${unlabelled.join(', ')}.`,
      ),
    );
  }
  for (const r of replayed) parts.push(...details(r));
  const direct = spots.filter(({ camera }) => !keepsEvidence(camera)).map(({ camera }) => camera.name);
  for (const name of new Set(direct)) {
    parts.push(
      fold(`${name}'s reference depends on its triggers, so these clips were replayed frame by frame.`),
    );
  }
  return parts.join('\n\n');
}

/** Few enough to be a table on any terminal. */
const SPOT_HEADS = ['site', 'length', 'visits caught', 'share, 90 %', 'false', 'an hour, 90 %'];

function spotRow(
  name: string,
  clips: readonly ClipReplayed[],
  score: Score,
  settings: SpotReplayed['settings'],
): string[] {
  return [
    marked(name, clips),
    clock(sum(clips, (r) => r.seconds)),
    ...(isScored(clips)
      ? [
          `${score.caught} of ${score.visits}`,
          share(score.recall),
          String(score.falseTriggers),
          rate(byBouts(score, settings)),
        ]
      : ['-', '-', '-', '-']),
  ];
}

const CLIP_HEADS = [
  'clip',
  'length',
  'triggers',
  'visits caught',
  'share, 90 %',
  'false triggers',
  'per hour, 90 %',
  'triggers right',
];

/** So many columns are told of clips without labels: the others would hold a dash each. */
const UNSCORED = 3;

/** As of a spot, with its triggers and the share of them that are right. */
function clipRow(
  name: string,
  clips: readonly ClipReplayed[],
  score: Score,
  settings: SpotReplayed['settings'],
): string[] {
  const [first, length, ...counts] = spotRow(name, clips, score, settings) as [string, string, ...string[]];
  const triggers = String(sum(clips, (r) => r.triggers.length));
  return [first, length, triggers, ...counts, isScored(clips) ? share(score.precision) : '-'];
}

function sum(clips: readonly ClipReplayed[], of: (r: ClipReplayed) => number): number {
  return clips.reduce((n, r) => n + of(r), 0);
}

function isScored(clips: readonly ClipReplayed[]): boolean {
  return clips.some(({ counts }) => counts !== null);
}

/** What weather was put onto is said wherever it is counted. */
function marked(name: string, clips: readonly ClipReplayed[]): string {
  const simulated = clips.filter((r) => r.simulated).length;
  if (simulated === 0) return name;
  return simulated === clips.length
    ? `${name} (simulated)`
    : `${name} (${simulated} of ${clips.length} simulated)`;
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
  const missed = r.visits.filter((v) => !v.caught).map(visitText);
  const lucky = r.visits.filter((v) => v.byLuck === true).map(visitText);
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

/** 0:14-0:40 wren; in tenths where a visit would seem to have no length. */
function visitText({ start, end, name }: ClipReplayed['visits'][number]): string {
  const decimals = clock(start) === clock(end) ? 1 : 0;
  return `${clock(start, decimals)}-${clock(end, decimals)}${name ? ` ${name}` : ''}`;
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
