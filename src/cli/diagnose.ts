import type { Command } from 'commander';
import { Problem } from '../base/problem.js';
import type { Clip } from '../clip/open.js';
import type { Diagnosis } from '../diagnose/diagnosis.js';
import type { Output } from '../files/output.js';
import { bestMask, diagnose, diagnosisDocument } from '../jobs/diagnose.js';
import { openSettings } from '../jobs/open.js';
import { tellingPlaces } from '../jobs/ports.js';
import { maskInForce } from '../report/mask-in-force.js';
import { againstText } from './against-text.js';
import { diagnosisText } from './diagnose-text.js';
import { examples } from './examples.js';
import { CAMERA, CLIPS_OR_PROJECT, JSON_OUT, SETTINGS, SITE } from './options.js';
import { FORCE, openOutputs } from './outputs.js';
import { print } from './print.js';
import { terminalPorts } from './progress.js';
import { clipsOf, onlyGroup, settingsInUse, spotsOf } from './project.js';
import { fold } from './terminal.js';

interface Options {
  camera?: string;
  settings?: string;
  site?: string;
  against?: string;
  writeMask?: string;
  teach?: true;
  report?: string;
  force?: true;
  json?: true;
}

export function addDiagnose(program: Command): void {
  program
    .command('diagnose')
    .description(
      'Explains every false trigger and every missed visit under one group of settings, and tries masks, turns of the dials and longer waits as cures. Clips without labels are explained too, but no cures are offered for them.',
    )
    .argument('[clip...]', CLIPS_OR_PROJECT)
    .option(...SETTINGS)
    .option(...CAMERA)
    .option(...SITE)
    .option('--against <file>', 'other settings: which triggers and visits differ, and why')
    .option('--write-mask <file>', 'write the settings with the best mask among the cures in them')
    .option(
      '--teach',
      'learn the causes of each site from "causes" in labels.json; used only where that does better on triggers left out',
    )
    .option('--report <file>', 'also write one HTML file with pictures and maps')
    .option(...FORCE)
    .option(...JSON_OUT)
    .addHelpText(
      'after',
      examples([
        ['diagnose my-clip --settings now.json --report why.html', 'why it fires falsely and what it misses'],
        [
          'diagnose my-clip --settings now.json --write-mask better.json',
          'and the settings with the mask that helps most',
        ],
        ['diagnose my-clip --settings now.json --against other.json', 'what other settings change'],
      ]),
    )
    .action(run);
}

async function run(paths: string[], options: Options): Promise<void> {
  const ports = await terminalPorts();
  const { spots, reads } = await spotsOf('diagnose', { ...options, clips: paths }, ports);
  const { camera } = onlyGroup('diagnose', spots);
  const settings = settingsInUse(spots[0]!);
  const other =
    options.against === undefined ? undefined : await openSettings(options.against, camera, ports);
  const { report, writeMask } = await openOutputs(
    { report: options.report, writeMask: options.writeMask },
    [...reads, options.against],
    options,
    ports,
  );
  const clips = (await clipsOf(spots, ports)).flat();
  const told = tellingPlaces(
    ports,
    clips.map(({ dir }) => dir),
  );
  if (writeMask) needSomeLabels(clips);
  const result = await diagnose(
    { clips, camera, settings, against: other, teach: options.teach === true },
    told,
  );

  const mask = writeMask && (await saveMask(writeMask, result));
  if (report) {
    const title = `What the ${camera.name} fires at, and what it misses`;
    const shown = clips.map((clip, i) => ({
      clip,
      triggers: (result.clips[i]?.judged.triggers ?? []).map(({ time }) => time),
    }));
    // Loaded only where it is asked for: what draws takes longer to load than all the rest.
    const { reportOf } = await import('../report/report.js');
    const parts = { title, camera, groups: [{ settings, clips: shown }], diagnosis: result };
    await report.write(await reportOf(parts, told));
  }
  if (options.json && mask?.file === null) ports.onWarning(mask.said);
  const names = { these: options.settings ?? 'the settings in use', other: options.against ?? '' };
  print(
    options,
    ports,
    () => ({
      ...diagnosisDocument(result),
      ...(result.against && { against: result.against }),
      ...(mask && { maskWritten: mask.file }),
    }),
    () =>
      [
        diagnosisText(result, { camera, settings, mask: maskInForce(clips, settings) }),
        ...(result.against ? [againstText(result.against, names)] : []),
        ...(mask ? [fold(mask.said)] : []),
      ].join('\n\n'),
  );
}

function needSomeLabels(clips: readonly Clip[]): void {
  if (clips.some(({ labels }) => labels)) return;
  throw new Problem(
    'needs-labels',
    `--write-mask: expected at least one clip with labels.json, because a mask is tried against labelled visits, found none; write one (README, "On your own camera"), or leave --write-mask out`,
  );
}

/**
 * Writes the settings with the best mask, if any mask holds. That none does is an answer like any other, not wrong use,
 * so it ends well; a file that is there already is left as it is.
 */
async function saveMask(
  output: Output,
  diagnosis: Diagnosis,
): Promise<{ file: string | null; said: string }> {
  const { path: file } = output;
  const best = bestMask(diagnosis);
  if (!best) {
    return {
      file: null,
      said: `${file}: not written, because no mask was found that holds on the other half of the footage.`,
    };
  }
  await output.write(`${JSON.stringify(best.settings, null, 2)}\n`);
  const place = best.clips ? ` It is for the place of ${best.clips.join(', ')} alone.` : '';
  return {
    file,
    said: `The settings with the best mask are in ${file}: try them with 'perchmark replay'.${place}`,
  };
}
