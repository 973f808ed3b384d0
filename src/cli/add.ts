import { type Command, InvalidArgumentError } from 'commander';
import { addRecording } from '../clip/add.js';
import { openCache } from '../jobs/open.js';
import { clock, plural } from '../words/ratios.js';
import { Progress } from './progress.js';
import { warn } from './terminal.js';

interface Options {
  rate?: number;
  times?: 'exif' | 'names' | 'video';
  title?: string;
  site?: string;
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
    .option('--rate <n>', 'frames per second, where neither the pictures nor their names tell', number)
    .option('--times <source>', 'where times come from: exif, names or video', timesSource)
    .option('--title <text>', 'what the clip shows')
    .option('--site <name>', 'where the camera hung')
    .option('--json', 'one JSON document on standard output')
    .action(run);
}

async function run(recording: string, dir: string, options: Options): Promise<void> {
  const { json, ...given } = options;
  const progress = new Progress(`${recording}: copying`);
  const added = await addRecording(recording, dir, {
    ...given,
    cache: await openCache(),
    onProgress: progress.update,
  });
  progress.end();
  for (const warning of added.warnings) warn(warning);
  const { frames, seconds } = added;
  process.stdout.write(
    json
      ? `${JSON.stringify({ dir, frames, seconds }, null, 2)}\n`
      : `${dir}: ${plural(frames, 'frame')}, ${clock(seconds)}. Next: write ${dir}/labels.json (README, "On your own camera"), then 'perchmark tune ${dir}'.\n`,
  );
}

/** A finite number from the command line. */
export function number(text: string): number {
  const value = Number(text);
  if (text.trim() === '' || !Number.isFinite(value)) throw new InvalidArgumentError('Expected a number.');
  return value;
}

function timesSource(text: string): string {
  if (['exif', 'names', 'video'].includes(text)) return text;
  throw new InvalidArgumentError('Expected exif, names or video.');
}
