import { dirname, join } from 'node:path';
import { type Command, InvalidArgumentError } from 'commander';
import { Problem } from '../base/problem.js';
import { visibleName } from '../base/text.js';
import { FASTEST, SLOWEST } from '../camera/description.js';
import { PROJECT, projectAt } from '../files/project.js';
import { add } from '../jobs/add.js';
import { clock, plural } from '../words/ratios.js';
import { examples } from './examples.js';
import { between } from './numbers.js';
import { JSON_OUT } from './options.js';
import { print } from './print.js';
import { type TerminalPorts, terminalPorts } from './progress.js';

interface Options {
  rate?: number;
  times?: 'exif' | 'names' | 'video';
  title?: string;
  site?: string;
  project?: true;
  link?: true;
  json?: true;
}

export function addAdd(program: Command): void {
  program
    .command('add')
    .description(
      'Copies a recording into a new clip folder and works out when each frame was taken. The recording itself is left as it is.',
    )
    .argument('<recording>', 'a folder of stills, or a video file')
    .argument('<dir>', 'the clip folder to make; it must not exist yet, or be empty')
    .option(
      '--rate <n>',
      'frames per second, if neither the pictures nor their names tell',
      between(SLOWEST, FASTEST, 'a number'),
    )
    .option('--times <source>', 'where times come from: exif, names or video', timesSource)
    .option('--title <text>', 'what the clip shows')
    .option(
      '--site <name>',
      `where the camera hung; if a ${PROJECT} stands beside the clip or in this folder, the clip is put into it`,
      siteName,
    )
    .option(
      '--project',
      `begin a project: a ${PROJECT} beside the clip, where there is none yet; needs --site`,
    )
    .option(
      '--link',
      'make no second copy but hard links to the recording, if the clip is on the same file system; do not edit either of them afterwards',
    )
    .option(...JSON_OUT)
    .addHelpText(
      'after',
      examples([
        ['add recording.mp4 my-clip', 'a clip folder from a video'],
        ['add recording.mp4 my-clip --link', 'the same without a second copy of a large file'],
        ['add stills/ my-clip --rate 5', 'from stills whose times neither EXIF nor names tell'],
        ['add recording.mp4 calm --site "log pile" --project', 'the first clip of a project'],
      ]),
    )
    .action(run);
}

async function run(
  recording: string,
  dir: string,
  { json, link, project: begins, ...given }: Options,
): Promise<void> {
  const ports = await terminalPorts();
  const project = await projectToJoin(dir, given.site, begins === true, ports);
  const links = link === true;
  const result = await add({ recording, dir, ...given, links, ...(project !== null && { project }) }, ports);
  const { frames, seconds } = result;
  const into = project === null ? '' : `, now in ${project} as one of ${given.site}`;
  const next =
    project === null
      ? `'perchmark tune ${dir}'`
      : `'perchmark tune'${dirname(project) === '.' ? '' : ` in the folder ${dirname(project)}`}`;
  print(
    json ? { json } : {},
    ports,
    () => result,
    () =>
      `${dir}: ${plural(frames, 'frame')}, ${clock(seconds)}${into}. Next: write ${dir}/labels.json (README, "On your own camera"), then ${next}.`,
  );
}

/** The project that the clip is put into: the one beside it, else the one in this folder, else one that is begun beside it. */
async function projectToJoin(
  dir: string,
  site: string | undefined,
  begins: boolean,
  { onWarning }: TerminalPorts,
): Promise<string | null> {
  if (begins && site === undefined) {
    throw new Problem(
      'usage',
      '--project: expected together with --site, the spot that the clip is of; add it',
    );
  }
  const found = (await projectAt(dirname(dir))) ?? (await projectAt('.'));
  if (found === null) return begins ? join(dirname(dir), PROJECT) : null;
  if (site !== undefined) return found;
  onWarning(
    `the clip is not put into ${found}, because nobody said which spot it belongs to; say so with --site NAME`,
  );
  return null;
}

/** Letters of the name of a spot; it stands in messages, tables and names of files. */
const LONGEST_NAME = 200;

function siteName(text: string): string {
  if (visibleName(text) === text && text.length <= LONGEST_NAME) return text;
  throw new InvalidArgumentError(
    `Expected a name in one line, of at most ${LONGEST_NAME} letters, such as "log pile".`,
  );
}

function timesSource(text: string): string {
  if (['exif', 'names', 'video'].includes(text)) return text;
  throw new InvalidArgumentError('Expected exif, names or video.');
}
