import { type Command, InvalidArgumentError } from 'commander';
import { FASTEST, SLOWEST } from '../camera/description.js';
import { add } from '../jobs/add.js';
import { clock, plural } from '../words/ratios.js';
import { examples } from './examples.js';
import { between } from './numbers.js';
import { print } from './print.js';
import { terminalPorts } from './progress.js';

interface Options {
  rate?: number;
  times?: 'exif' | 'names' | 'video';
  title?: string;
  site?: string;
  link?: true;
  json?: true;
}

export function addAdd(program: Command): void {
  program
    .command('add')
    .summary('makes a clip folder from stills or a video')
    .description(
      'Copies a recording into a new clip folder and works out when each frame was taken. The recording itself is left as it is.',
    )
    .argument('<recording>', 'a folder of stills, or a video file')
    .argument('<dir>', 'the clip folder to make; it must not exist yet, or be empty')
    .option(
      '--rate <n>',
      'frames per second, where neither the pictures nor their names tell',
      between(SLOWEST, FASTEST, 'a number'),
    )
    .option('--times <source>', 'where times come from: exif, names or video', timesSource)
    .option('--title <text>', 'what the clip shows')
    .option('--site <name>', 'where the camera hung')
    .option(
      '--link',
      'no second copy: hard links to the recording, where the clip lies on the same file system; then edit neither of the two',
    )
    .option('--json', 'one JSON document on standard output')
    .addHelpText(
      'after',
      examples([
        ['add recording.mp4 my-clip', 'a clip folder from a video'],
        ['add recording.mp4 my-clip --link', 'the same without a second copy of a large file'],
        ['add stills/ my-clip --rate 5', 'from stills whose times neither EXIF nor names tell'],
      ]),
    )
    .action(run);
}

async function run(recording: string, dir: string, { json, link, ...given }: Options): Promise<void> {
  const ports = await terminalPorts();
  const result = await add({ recording, dir, ...given, links: link === true }, ports);
  const { frames, seconds } = result;
  print(
    json ? { json } : {},
    ports,
    () => result,
    () =>
      `${dir}: ${plural(frames, 'frame')}, ${clock(seconds)}. Next: write ${dir}/labels.json (README, "On your own camera"), then 'perchmark tune ${dir}'.`,
  );
}

function timesSource(text: string): string {
  if (['exif', 'names', 'video'].includes(text)) return text;
  throw new InvalidArgumentError('Expected exif, names or video.');
}
