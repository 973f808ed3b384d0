import type { Command } from 'commander';
import { Problem } from '../base/problem.js';
import type { Camera } from '../camera/description.js';
import type { ResolvedSettings } from '../camera/settings.js';
import type { Clip } from '../clip/open.js';
import { type AgainstResult, compareCases } from '../diagnose/against/against.js';
import { openCase } from '../diagnose/case.js';
import { diagnose } from '../diagnose/diagnose.js';
import type { Diagnosis } from '../diagnose/diagnosis.js';
import { writeAtomic } from '../files/atomic.js';
import { readSettings } from '../files/read-settings.js';
import { diagnosisData } from '../jobs/diagnose/data.js';
import { openCache, openClips } from '../jobs/open.js';
import { maskInForce } from '../report/diagnosis-shown.js';
import { writeReport } from '../report/report.js';
import type { Cache } from '../store/cache.js';
import type { Present } from '../words/change-wording.js';
import { againstText } from './against-text.js';
import { cameraNamed, noteSlowClips } from './camera.js';
import { diagnosisText } from './diagnose-text.js';
import { Phases } from './progress.js';
import { fold, warn } from './terminal.js';

interface Options {
  camera?: string;
  settings: string;
  against?: string;
  writeMask?: string;
  report?: string;
  json?: true;
}

export function addDiagnose(program: Command): void {
  program
    .command('diagnose')
    .summary('why it fired falsely, what it missed, which cure would help')
    .description(
      'Explains every false trigger and every missed visit under one group of settings, and tries masks, notches on the dials and longer waits as cures. Clips without labels are explained too, but nothing is cured.',
    )
    .argument('<clip...>', 'clip folders, or scene files')
    .requiredOption('--settings <file>', 'settings.json: engine values, or dial positions under "controls"')
    .option('--camera <file>', 'camera.json; left out: the default camera')
    .option('--against <file>', 'other settings: which triggers and visits differ, and why')
    .option('--write-mask <file>', 'write the settings with the best mask among the cures in them')
    .option('--report <file>', 'also write one HTML file with pictures and maps')
    .option('--json', 'one JSON document on standard output')
    .action(run);
}

async function run(paths: string[], options: Options): Promise<void> {
  const camera = await cameraNamed(options.camera);
  const settings = await readSettings(options.settings, camera);
  const other = options.against === undefined ? null : await readSettings(options.against, camera);
  for (const warning of [...settings.warnings, ...(other?.warnings ?? [])]) warn(warning);
  const cache = await openCache();
  const clips = await openClips(paths, cache);
  if (options.writeMask !== undefined) needSomeLabels(clips);
  noteSlowClips(clips, camera);

  const progress = new Phases();
  const diagnosis = await diagnose(clips, camera, settings, {
    cache,
    onPhase: progress.begin,
    onProgress: progress.update,
    onWarning: warn,
  });
  progress.end();
  const against = other && (await compareAll(clips, camera, settings, other, cache));

  const mask = options.writeMask === undefined ? null : await writeMask(options.writeMask, diagnosis);
  if (options.report !== undefined) {
    await writeReport(options.report, {
      title: `What the ${camera.name} fires at, and what it misses`,
      camera,
      settings,
      clips: clips.map((clip, i) => ({
        clip,
        triggers: (diagnosis.clips[i]?.judged.triggers ?? []).map(({ time }) => time),
      })),
      cache,
      diagnosis,
    });
  }
  if (options.json) {
    const data = {
      ...diagnosisData(diagnosis),
      ...(against && { against }),
      ...(mask && { maskWritten: mask.file }),
    };
    if (mask?.file === null) warn(mask.said);
    process.stdout.write(`${JSON.stringify(data, null, 2)}\n`);
    return;
  }
  const present: Present = { camera, settings, mask: maskInForce(clips, settings) };
  const names = { these: options.settings, other: options.against ?? '' };
  const parts = [
    diagnosisText(diagnosis, present),
    ...(against ? [againstText(against, names)] : []),
    ...(mask ? [fold(mask.said)] : []),
  ];
  process.stdout.write(`${parts.join('\n\n')}\n`);
}

/** Holds two groups of settings against each other, clip by clip. */
async function compareAll(
  clips: readonly Clip[],
  camera: Camera,
  these: ResolvedSettings,
  other: ResolvedSettings,
  cache: Cache,
): Promise<AgainstResult[]> {
  const results: AgainstResult[] = [];
  const progress = new Phases();
  for (const clip of clips) {
    const options = { cache, onProgress: progress.update };
    const open = (settings: ResolvedSettings) => {
      progress.begin(`${clip.dir}: holding other settings against these, reading frames`);
      return openCase(clip, camera, settings, options);
    };
    results.push(await compareCases(await open(these), await open(other), options));
    progress.end();
  }
  return results;
}

function needSomeLabels(clips: readonly Clip[]): void {
  if (clips.some(({ labels }) => labels)) return;
  throw new Problem(
    'needs-labels',
    `--write-mask: expected at least one clip with labels.json, for a mask is tried against labelled visits, found none; write one (README, "On your own camera"), or leave --write-mask out`,
  );
}

/**
 * Writes the settings with the best mask, if any mask holds. That none does is an answer like any other, not wrong use,
 * so it ends well; a file that is there already is left as it is.
 */
async function writeMask(file: string, { cures }: Diagnosis): Promise<{ file: string | null; said: string }> {
  const best = cures.find(({ kind }) => kind === 'mask');
  if (!best) {
    return {
      file: null,
      said: `${file}: not written, for no mask was found that holds on the other half of the footage.`,
    };
  }
  await writeAtomic(file, `${JSON.stringify(best.settings, null, 2)}\n`);
  const place = best.clips ? ` It is for the place of ${best.clips.join(', ')} alone.` : '';
  return {
    file,
    said: `The settings with the best mask are in ${file}: try them with 'perchmark replay'.${place}`,
  };
}
