import { extname } from 'node:path';
import { type Command, Option } from 'commander';
import { figure, significant } from '../base/figures.js';
import { Problem } from '../base/problem.js';
import { quoted } from '../base/text.js';
import { openCamera } from '../jobs/open.js';
import { type SizeResult, size, sizeDocument } from '../jobs/size.js';
import { dialsText } from '../words/ratios.js';
import { examples } from './examples.js';
import { between } from './numbers.js';
import { CAMERA_ALONE, JSON_OUT, SITE } from './options.js';
import { FORCE, openOutputs } from './outputs.js';
import { print } from './print.js';
import { terminalPorts } from './progress.js';
import { cameraFileFor } from './project.js';
import { fold, listed, strong, table } from './terminal.js';

interface Options {
  camera?: string;
  site?: string;
  length?: number;
  animal?: string;
  distance: number;
  drawing?: string;
  force?: true;
  json?: true;
}

export function addSize(program: Command): void {
  program
    .command('size')
    .description(
      'Says how large an animal looks to the camera, in pixels of the frames that it compares, which minimumArea to start from, and between which distances it then fires.',
    )
    .option(...CAMERA_ALONE)
    .option(...SITE)
    .addOption(
      new Option('--length <cm>', 'length of the animal, centimetres, from bill to tail or head and body')
        .argParser(between(0.1, 1000, 'a number of centimetres'))
        .conflicts('animal'),
    )
    .option('--animal <name>', 'one whose length is known, such as wren; instead of --length')
    .requiredOption(
      '--distance <m>',
      'metres from the camera to it',
      between(0.01, 1000, 'a number of metres'),
    )
    .option('--drawing <file>', 'also write a drawing to scale (SVG)')
    .option(...FORCE)
    .option(...JSON_OUT)
    .addHelpText(
      'after',
      examples([
        ['size --animal wren --distance 2', 'where minimumArea should start for a wren'],
        [
          'size --camera camera.json --length 25 --distance 3 --drawing hedgehog.svg',
          'an animal 25 cm long, with a drawing',
        ],
      ]),
    )
    .action(run);
}

async function run(options: Options): Promise<void> {
  const length = options.length ?? options.animal;
  if (length === undefined) {
    throw new Problem('usage', 'size: expected how long the animal is; give --length or --animal');
  }
  const ports = await terminalPorts();
  const file = await cameraFileFor(options, ports);
  const camera = await openCamera(file);
  // What has no ending may be a pipe or a device.
  if (options.drawing !== undefined && !/^(\.svg)?$/i.test(extname(options.drawing))) {
    throw new Problem(
      'usage',
      `--drawing: expected the name of an SVG file, found ${quoted(options.drawing)}; let it end in .svg`,
    );
  }
  const { drawing } = await openOutputs({ drawing: options.drawing }, [file], options, ports);
  const result = await size({ camera, length, distance: options.distance });
  if (drawing) {
    // Loaded only where it is asked for: what draws takes longer to load than all the rest.
    const { sizeFigure } = await import('../report/figures/size.js');
    await drawing.write(`${sizeFigure(result, camera, result.animal, 'size')}\n`);
  }
  print(
    options,
    ports,
    () => sizeDocument(result),
    () => asText(result, options.drawing),
  );
}

function asText(result: SizeResult, drawing: string | undefined): string {
  const { camera, animal, lengthCm, distance, pixels, area, range, assumed, notes } = result;
  const { width, height } = camera.analysis;
  const { value } = lengthCm;
  return [
    strong(
      fold(
        `${animal ?? `An animal ${figure(value)} cm long`}, ${metres(distance)} away: ${figure(pixels)} pixels long`,
      ),
    ),
    table(
      [`in ${width} x ${height}, from the side`, 'pixels'],
      [
        ['length', `${figure(pixels)}${span(range.pixels, figure)}`],
        ['area to expect', `${figure(area)}${span(range.area, figure)}`],
        ['minimumArea to start from', significant(result.minimumArea, 6)],
      ],
    ),
    fold(startText(result)),
    fold(nearestText(result)),
    ...notes.map((note) => fold(note)),
    ...listed('Taken to be so:', assumed),
    ...(drawing === undefined ? [] : [`Drawn to scale in ${drawing}.`]),
  ].join('\n\n');
}

/** For the shortest and the longest that are common, to stand after what is likely; empty where a length was given. */
function span({ low, high }: { low: number; high: number }, told: (x: number) => string): string {
  return low === high ? '' : ` (${told(low)}–${told(high)})`;
}

function startText({ controls, farthest, farthestEndOn, area, minimumArea, range }: SizeResult): string {
  const dials = dialsText(controls);
  const where = dials === '' ? `minimumArea ${significant(minimumArea, 6)}` : dials;
  const why =
    minimumArea <= area / 2
      ? 'not above half of the area, which is what it shows from the end or half hidden'
      : 'more than half of the area, because there is nothing lower';
  return `Start with ${where}: ${why}. With that it fires up to ${metres(farthest)}${span(range.farthest, metres)} away from the side, ${metres(farthestEndOn)}${span(range.farthestEndOn, metres)} from the end, if all of it moves and stands out from the ground; tune says what really serves.`;
}

function nearestText({ nearest, nearestBy, mostChanged, range }: SizeResult): string {
  const tooMuch = (value: number) =>
    `it may change more than mostChanged ${significant(value, 6)} allows, and then it does not fire`;
  const [lowest, highest] = [mostChanged[0]!, mostChanged.at(-1)!];
  const first = `Nearer than ${metres(nearest)}${span(range.nearest, metres)} ${nearestBy === 'frame' ? 'it fills the frame' : tooMuch(highest.value)}.`;
  if (lowest.nearest <= nearest) return first;
  return `${first} With the dial at its lowest that begins at ${metres(lowest.nearest)}: there ${tooMuch(lowest.value)}.`;
}

function metres(x: number): string {
  return `${significant(x, 2)} m`;
}
