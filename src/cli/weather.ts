import { resolve, sep } from 'node:path';
import { type Command, Option } from 'commander';
import { significant } from '../base/figures.js';
import { Problem } from '../base/problem.js';
import type { Clip } from '../clip/open.js';
import { openCamera, openClips } from '../jobs/open.js';
import { type WeatherResult, weather, weatherDocument } from '../jobs/weather.js';
import type { Conditions } from '../weather/setup.js';
import { beaufortOf, beaufortSpeed } from '../weather/wind/beaufort.js';
import { clock, plural } from '../words/ratios.js';
import { examples } from './examples.js';
import { between } from './numbers.js';
import { onlyCamera } from './only-camera.js';
import { JSON_OUT, NOISE_FROM, SEED } from './options.js';
import { FORCE, openOutputs } from './outputs.js';
import { print } from './print.js';
import { terminalPorts } from './progress.js';
import { fold, listed, strong, table } from './terminal.js';

interface Options {
  wind?: number;
  windSpeed?: number;
  rain?: number;
  light?: number;
  at?: string;
  seed: string;
  camera?: string;
  showMap?: string;
  sway?: number;
  swayFrom?: string;
  noiseFrom?: string;
  force?: true;
  json?: true;
}

export function addWeather(program: Command): void {
  program
    .command('weather')
    .description(
      'Puts wind, rain or low light onto a clip and writes the result as a new clip with the same labels, marked as simulated. A clip can be made windier, wetter and darker, never calmer, drier or brighter.',
    )
    .argument('<clip>', 'a clip folder, or a scene file')
    .argument('<dir>', 'the clip folder to make; it must not exist yet, or be empty')
    .option('--wind <b>', 'wind, Beaufort number', between(0, 12, 'a Beaufort number'))
    .addOption(
      new Option('--wind-speed <m/s>', 'mean wind at 10 m, instead of --wind')
        .argParser(between(0, STRONGEST, 'metres per second'))
        .conflicts('wind'),
    )
    .option('--rain <mm>', 'rain, mm/h', between(0, 200, 'mm/h'))
    .option('--light <lux>', 'light at the scene', between(0, 200_000, 'lux'))
    .addOption(
      new Option(
        '--at <time>',
        'light as at this time, such as 2026-05-04T21:10:00+01:00, instead of --light',
      ).conflicts('light'),
    )
    .option(...SEED)
    .option('--camera <file>', "camera.json, or the name of one that ships; default: the demo's", onlyCamera)
    .option('--show-map <file>', 'also write a picture (PNG) of what was taken for foliage')
    .option(
      '--sway <factor>',
      'how far things sway, as a multiple of what is assumed',
      between(0, 20, 'a factor'),
    )
    .addOption(
      new Option('--sway-from <clip>', 'a windy clip of the same site on which to measure sway').conflicts(
        'sway',
      ),
    )
    .option(...NOISE_FROM)
    .option(...FORCE)
    .option(...JSON_OUT)
    .addHelpText(
      'after',
      examples([
        ['weather calm-clip windy-clip --wind 6', 'the same clip in wind of Beaufort 6'],
        ['weather calm-clip wet-clip --rain 4 --light 200', 'in rain and at dusk'],
        [
          'weather calm-clip dusk-clip --light 20 --noise-from stills-clip',
          "with the noise of the camera's own sensor",
        ],
      ]),
    )
    .action(run);
}

async function run(path: string, dir: string, options: Options): Promise<void> {
  refuseNothing(options);
  const ports = await terminalPorts();
  const camera = await openCamera(options.camera);
  refuseMapInside(options.showMap, dir);
  const { showMap } = await openOutputs(
    { showMap: options.showMap },
    [options.camera, options.swayFrom, options.noiseFrom, path],
    options,
    ports,
  );
  const [clip] = (await openClips([path], ports)) as [Clip];
  const { windSpeed, rain, light, at, seed, sway, swayFrom, noiseFrom } = options;
  const wind =
    windSpeed === undefined ? options.wind : Math.min(12, Number(beaufortOf(windSpeed).toFixed(2)));
  const result = await weather(
    {
      clip,
      dir,
      to: { wind, rain, light },
      at,
      seed,
      camera,
      sway,
      swayFrom,
      noiseFrom,
      atLast: showMap
        ? async (foliage, size) => {
            const { foliageMap } = await import('../report/foliage-map.js');
            await showMap.write(await foliageMap(clip, foliage, size));
          }
        : undefined,
    },
    ports,
  );
  print(
    options,
    ports,
    () => weatherDocument(result),
    () => asText(clip, result, options.showMap),
  );
}

/** The folder that is made appears as it was made, and nothing may stand in its place. */
function refuseMapInside(map: string | undefined, dir: string): void {
  if (map === undefined || !resolve(map).startsWith(`${resolve(dir)}${sep}`)) return;
  throw new Problem(
    'usage',
    `--show-map ${map}: this would lie in the new clip ${dir}; choose a place outside it`,
  );
}

function refuseNothing({ wind, windSpeed, rain, light, at }: Options): void {
  if ([wind, windSpeed, rain, light, at].some((wish) => wish !== undefined)) return;
  throw new Problem(
    'usage',
    'weather: nothing was asked for; give at least one of --wind, --wind-speed, --rain, --light and --at',
  );
}

/** Metres per second at Beaufort 12. */
const STRONGEST = Number(beaufortSpeed(12).toFixed(2));

function asText(
  { dir: path, manifest: { conditions } }: Clip,
  { dir, frames, seconds, simulated, defaults, from, to }: WeatherResult,
  map: string | undefined,
): string {
  const row = (name: string, key: keyof Conditions, say: (value: number) => string) => {
    const [was, is] = [from[key], simulated[key]];
    const said = conditions?.[key] !== undefined;
    const recorded = was === undefined ? 'not known' : said ? say(was) : `taken as ${say(was)}`;
    return [name, recorded, to[key] === undefined || is === undefined ? 'as recorded' : say(is)];
  };
  return [
    strong(
      fold(
        `${dir}: ${plural(frames, 'frame')}, ${clock(seconds)}, simulated from ${path} (seed ${simulated.seed})`,
      ),
    ),
    table(
      ['', 'recorded', 'simulated'],
      [
        row('wind', 'wind', (v) => `Beaufort ${significant(v, 3)}`),
        row('rain', 'rain', (v) => `${significant(v, 3)} mm/h`),
        row('light', 'light', (v) => `${significant(v, 3)} lux`),
      ],
    ),
    ...listed('Rests on assumption:', simulated.assumed ?? []),
    ...listed('Defaults used, for what neither file says:', defaults),
    ...(map === undefined ? [] : [`What was taken for foliage is hatched in ${map}.`]),
    fold('Every figure that comes of this clip is that of a simulation, not of a recording.'),
  ].join('\n\n');
}
