import type { Command } from 'commander';
import { type Camera, keepsEvidence } from '../camera/description.js';
import { photosFor } from '../camera/timing.js';
import type { Clip } from '../clip/open.js';
import { readSettings } from '../files/read-settings.js';
import { openCache, openClips } from '../jobs/open.js';
import { replayClip } from '../measure/replay.js';
import { writeReport } from '../report/report.js';
import { type Judged, judgeAll } from '../score/replayed.js';
import { addCounts, noCounts, type Score, scoreOf } from '../score/score.js';
import { truthOf } from '../score/truth.js';
import { clock, plural, rate, share } from '../words/ratios.js';
import { cameraNamed, noteSlowClips } from './camera.js';
import { Progress } from './progress.js';
import { fold, strong, table, warn } from './terminal.js';

interface Replayed extends Judged {
  clip: string;
  frames: number;
  seconds: number;
  score: Score;
}

interface Options {
  camera?: string;
  settings: string;
  report?: string;
  json?: true;
}

export function addReplay(program: Command): void {
  program
    .command('replay')
    .summary('one group of settings, scored')
    .description('Replays clips under one group of settings and holds the triggers against hand labels.')
    .argument('<clip...>', 'clip folders, or scene files')
    .requiredOption('--settings <file>', 'settings.json: engine values, or dial positions under "controls"')
    .option('--camera <file>', 'camera.json; left out: the default camera')
    .option('--report <file>', 'also write one HTML file with pictures')
    .option('--json', 'one JSON document on standard output')
    .action(run);
}

async function run(paths: string[], options: Options): Promise<void> {
  const camera = await cameraNamed(options.camera);
  const settings = await readSettings(options.settings, camera);
  for (const warning of settings.warnings) warn(warning);
  const cache = await openCache();
  const clips = await openClips(paths, cache);
  noteSlowClips(clips, camera);

  const replayed: Replayed[] = [];
  const shown: { clip: Clip; triggers: number[] }[] = [];
  for (const clip of clips) {
    const progress = new Progress(`${clip.dir}: reading frames`);
    const times = await replayClip(clip, camera, settings, {
      cache,
      onProgress: progress.update,
      onWarning: warn,
    });
    progress.end();
    shown.push({ clip, triggers: times });
    const truth = clip.labels && truthOf(clip.labels, clip.seconds);
    const judged = judgeAll(times, (time) => photosFor(camera, time), truth);
    replayed.push({
      clip: clip.dir,
      frames: clip.times.length,
      seconds: clip.seconds,
      ...judged,
      score: scoreOf(judged.counts ?? noCounts),
    });
  }
  const total = scoreOf(addCounts(replayed.flatMap((r) => (r.counts ? [r.counts] : []))));
  if (options.report) await writeReport(options.report, { camera, settings, clips: shown, cache });
  process.stdout.write(
    options.json ? `${asJson(replayed, total)}\n` : `${asText(replayed, total, camera)}\n`,
  );
}

function asJson(replayed: readonly Replayed[], total: Score): string {
  const clips = replayed.map(({ clip, frames, seconds, triggers, visits, score }) => ({
    clip,
    frames,
    seconds,
    triggers,
    visits: visits.map(({ start, end, caught }) => ({ start, end, caught })),
    score,
  }));
  return JSON.stringify({ clips, total }, null, 2);
}

function asText(replayed: readonly Replayed[], total: Score, camera: Camera): string {
  const row = (name: string, seconds: number, triggers: number, score: Score, labelled: boolean) => [
    name,
    clock(seconds),
    String(triggers),
    ...(labelled
      ? [
          `${score.caught} of ${score.visits}`,
          share(score.recall),
          String(score.falseTriggers),
          rate(score.falsePerHour),
          share(score.precision),
        ]
      : ['-', '-', '-', '-', '-']),
  ];
  const rows = replayed.map((r) => row(r.clip, r.seconds, r.triggers.length, r.score, r.counts !== null));
  if (replayed.length > 1) {
    const sum = (of: (r: Replayed) => number) => replayed.reduce((n, r) => n + of(r), 0);
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
    'at nothing',
    'per hour, 90 %',
    'triggers right',
  ];
  const parts = [table(heads, rows)];
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

/** What was missed and what fired at nothing, or when it fired where nothing can be told. */
function details(r: Replayed): string[] {
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
  const nothing = r.triggers.filter((t) => t.verdict === 'false').map((t) => clock(t.time));
  return [
    ...(missed.length > 0 ? [listed(`${r.clip}: missed ${plural(missed.length, 'visit')}:`, missed)] : []),
    ...(nothing.length > 0
      ? [listed(`${r.clip}: fired at nothing ${plural(nothing.length, 'time')}:`, nothing)]
      : []),
  ];
}

const MOST_LISTED = 24;

function listed(head: string, entries: readonly string[]): string {
  const more =
    entries.length > MOST_LISTED ? ` and ${entries.length - MOST_LISTED} more (--json lists all)` : '';
  return `${strong(head)}\n${fold(entries.slice(0, MOST_LISTED).join(', ') + more)
    .split('\n')
    .map((line) => `  ${line}`)
    .join('\n')}`;
}
