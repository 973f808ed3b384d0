import type { Command } from 'commander';
import { Problem } from '../base/problem.js';
import { quoted } from '../base/text.js';
import { filesOf, readSuite, type Suite, suiteOfProject } from '../check/suite.js';
import { PROJECT } from '../files/project.js';
import { check, checkDocument, type Firmware, PATIENCE } from '../jobs/check.js';
import { junitXml } from '../report/junit.js';
import { checkText } from './check-text.js';
import { examples } from './examples.js';
import { NotHeld } from './not-held.js';
import { between } from './numbers.js';
import { JSON_OUT, SITE } from './options.js';
import { FORCE, openOutputs } from './outputs.js';
import { print } from './print.js';
import { type TerminalPorts, terminalPorts } from './progress.js';
import { onlyGroup, projectFor, settingsInUse, spotsOf } from './project.js';

interface Options {
  accept?: true;
  why?: string;
  against?: string[];
  junit?: string;
  cameraCommand?: string;
  patience?: number;
  fullSize?: true;
  site?: string;
  report?: string;
  force?: true;
  json?: true;
}

export function addCheck(program: Command): void {
  program
    .command('check')
    .description(
      'Replays the clips of a suite and compares the results with those accepted before. Fails (exit code 1) if a visit is newly lost, a limit is broken or a clip cannot be compared, until somebody accepts that.',
    )
    .argument(
      '[suite]',
      `suite.json: clips, camera, settings, limits; default: the spots of ${PROJECT} in this folder, under the settings in use`,
    )
    .option(...SITE)
    .option('--accept', 'keep what the suite gives now as the accepted results; needs --why')
    .option('--why <text>', 'why they are accepted, kept with them')
    .option(
      '--against <file>',
      "another camera or other settings, compared with the suite's own; may be given twice, for one of each; with --camera-command: the description to compare it with",
      (file: string, earlier: string[] = []) => [...earlier, file],
    )
    .option(
      '--camera-command <command>',
      "your own program, which reads frames on standard input and prints when it fires, instead of the camera's description",
    )
    .option(
      '--patience <seconds>',
      `how long that program may take for a frame (default: ${PATIENCE})`,
      between(0.1, 86_400, 'seconds'),
    )
    .option(
      '--full-size',
      "give it frames of the clip's own pixel size; default: the size that the camera compares",
    )
    .option('--junit <file>', 'also write JUnit XML, for CI services')
    .option('--report <file>', 'also write one HTML file with pictures')
    .option(...FORCE)
    .option(...JSON_OUT)
    .addHelpText(
      'after',
      examples([
        ['check suite.json --accept --why "as it was hung"', 'keep what the suite gives now, once'],
        ['check suite.json', 'has it got worse since?'],
        ['check suite.json --against other.json', 'would other settings be better?'],
        [
          'check suite.json --camera-command "node firmware.js"',
          'is your own code as good as what was accepted?',
        ],
        [
          'check suite.json --camera-command ./firmware --against camera.json',
          'where does it fire otherwise than that description?',
        ],
      ]),
    )
    .addHelpText(
      'after',
      `
What the program of --camera-command reads, started anew for each clip: two lines, then each frame as one line and its bytes:
  perchmark-frames 1 WIDTH HEIGHT RATE
  {"settings":{"threshold":...},"mask":[...],"camera":{"analysis":{...},...}}
  NUMBER TIME BYTES            and then so many bytes, luminance, row by row from the top
What it prints: the time of each trigger in seconds, alone on its line, in order; no other line. It ends with exit code 0
once its input does. A short one that is whole stands in src/check/firmware/README.md, among the sources.`,
    )
    .action(run);
}

async function run(file: string | undefined, options: Options): Promise<void> {
  const accept = reasonFrom(options);
  const firmware = firmwareFrom(options);
  const ports = await terminalPorts();
  const { suite, asked } = await suiteFor(file, options.site, ports);
  const { report, junit } = await openOutputs(
    { report: options.report, junit: options.junit },
    [suite.file, ...filesOf(suite), ...(options.against ?? [])],
    options,
    ports,
  );
  const result = await check({ suite, against: options.against, accept, firmware }, ports);
  const { checked, about } = result;
  if (junit) await junit.write(junitXml(about.title, checked));
  if (report) {
    // Loaded only where it is asked for: what draws takes longer to load than a check to answer.
    const { checkReportOf } = await import('../report/check-report.js');
    await report.write(await checkReportOf(result, ports));
  }
  print(
    options,
    ports,
    () => checkDocument(result),
    () => checkText(checked, { ...about, file: asked }, result.replayed.settings),
  );
  if (checked.verdict === 'fails') throw new NotHeld();
}

/** The suite that is meant, and how to ask for it on the command line. */
async function suiteFor(
  file: string | undefined,
  site: string | undefined,
  ports: TerminalPorts,
): Promise<{ suite: Suite; asked: string }> {
  const clips = file === undefined ? [] : [file];
  const project = await projectFor(clips);
  if (project) {
    const { spots } = await spotsOf('check', { clips, site }, ports);
    settingsInUse(onlyGroup('check', spots));
    const suite = await suiteOfProject(project, site);
    return { suite, asked: site === undefined ? project.file : `${project.file} --site ${quoted(site)}` };
  }
  if (file === undefined) {
    throw new Problem(
      'usage',
      `check: expected a suite file, found none, nor a ${PROJECT} in this folder; perchmark schema suite prints what goes into one`,
    );
  }
  if (site !== undefined) {
    throw new Problem('usage', '--site: expected with the spots of a project, found a suite; leave it out');
  }
  return { suite: await readSuite(file), asked: file };
}

/** The program that is to fire; undefined where the description does. */
function firmwareFrom({ cameraCommand: command, patience, fullSize }: Options): Firmware | undefined {
  if (command !== undefined) return { command, patience, fullSize };
  const [given] = [patience !== undefined && '--patience', fullSize && '--full-size'].filter(Boolean);
  if (!given) return undefined;
  throw new Problem(
    'usage',
    `${given}: expected together with --camera-command, because it is about that program; add it or leave it out`,
  );
}

/** Why results are to be accepted; undefined where they are not. */
function reasonFrom({ accept, why }: Options): string | undefined {
  const wrong = (text: string): never => {
    throw new Problem('usage', text);
  };
  if (!accept) {
    return why === undefined
      ? undefined
      : wrong('--why: expected together with --accept; add it or leave both out');
  }
  const reason = why?.trim() ?? '';
  return reason !== ''
    ? reason
    : wrong('--accept: expected a reason, found none; add --why "what changed, and why that is right"');
}
