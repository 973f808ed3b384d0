import { isAbsolute, relative, resolve } from 'node:path';
import { type Command, InvalidArgumentError, Option } from 'commander';
import { z } from 'zod';
import { significant } from '../base/figures.js';
import { Problem } from '../base/problem.js';
import type { Clip } from '../clip/open.js';
import { openCache, openClips } from '../jobs/open.js';
import { type Written, writeSimulated } from '../jobs/weather/write.js';
import { setupFor } from '../measure/weather/setup-for.js';
import { measureSway } from '../measure/weather/sway.js';
import { writeMap } from '../report/foliage-map.js';
import { beaufortOf, beaufortSpeed } from '../weather/beaufort.js';
import { estimateLight, lightAt } from '../weather/estimate.js';
import type { Conditions, Setup } from '../weather/setup.js';
import { clock, plural } from '../words/ratios.js';
import { cameraNamed } from './camera.js';
import { Progress } from './progress.js';
import { fold, strong, table } from './terminal.js';

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
  json?: true;
}

export function addWeather(program: Command): void {
  program
    .command('weather')
    .summary('the same clip in other conditions')
    .description(
      'Puts wind, rain or low light onto a clip and writes the result as a new clip with the same labels, marked as simulated. Weather is only added: a clip can be made windier, wetter and darker, never calmer, drier or brighter.',
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
    .option('--seed <text>', 'everything random follows from it', '1')
    .option('--camera <file>', 'camera.json; left out: the default camera')
    .option('--show-map <file>', 'also write a picture (PNG) of what was taken for foliage')
    .option('--sway <factor>', 'sway against the assumed amplitude', between(0, 20, 'a factor'))
    .addOption(
      new Option('--sway-from <clip>', 'a windy clip of the same site, to measure sway on').conflicts('sway'),
    )
    .option('--json', 'one JSON document on standard output')
    .action(run);
}

async function run(path: string, dir: string, options: Options): Promise<void> {
  refuseNothing(options);
  refuseInside(path, dir);
  const camera = await cameraNamed(options.camera);
  const cache = await openCache();
  const [clip] = (await openClips([path], cache)) as [Clip];
  if (clip.manifest.simulated) {
    throw new Problem(
      'usage',
      `${path}: this clip is itself simulated (clip.json: simulated), and noise would count twice; start from the recording, ${clip.manifest.simulated.from} as seen from there, and ask for wind, rain and light together`,
    );
  }
  const light = options.at === undefined ? { lux: options.light, how: [] } : lightOf(clip, options.at);
  const to: Conditions = {
    wind:
      options.windSpeed === undefined
        ? options.wind
        : Math.min(12, Number(beaufortOf(options.windSpeed).toFixed(2))),
    rain: options.rain,
    light: light.lux,
  };
  const { seed } = options;
  const looking = new Progress(`${path}: looking for foliage and its motion`);
  const [windy] = options.swayFrom === undefined ? [] : await openClips([options.swayFrom], cache);
  const measured = windy && (await measureSway(clip, windy, camera, seed));
  const { width, height } = clip;
  const sway = measured?.factor ?? options.sway;
  const { setup, defaults } = await setupFor(clip, camera, to, { width, height, seed, sway });
  looking.end();

  const progress = new Progress(`${dir}: simulating frames`);
  const { showMap } = options;
  const written = await writeSimulated(clip, dir, setup, {
    assumed: [...(measured ? [measured.how] : []), ...swaySaid(setup), ...light.how],
    start: options.at,
    onProgress: progress.update,
    atLast: showMap === undefined ? undefined : () => writeMap(showMap, clip, setup.foliage),
  });
  progress.end();
  const { frames, seconds, simulated } = written;
  process.stdout.write(
    options.json
      ? `${JSON.stringify({ dir, frames, seconds, simulated, defaults }, null, 2)}\n`
      : `${asText(clip, dir, setup, written, defaults, showMap)}\n`,
  );
}

function refuseNothing({ wind, windSpeed, rain, light, at }: Options): void {
  if ([wind, windSpeed, rain, light, at].some((wish) => wish !== undefined)) return;
  throw new Problem(
    'usage',
    'weather: nothing was asked for; give at least one of --wind, --wind-speed, --rain, --light and --at',
  );
}

function refuseInside(path: string, dir: string): void {
  const inside = relative(resolve(path), resolve(dir));
  if (inside.startsWith('..') || isAbsolute(inside)) return;
  throw new Problem(
    'usage',
    `${dir}: the new clip would lie inside the clip ${path}, which stays as it is; choose a folder elsewhere`,
  );
}

/** Light at another time of the clip's place. */
function lightOf(clip: Clip, at: string): { lux: number; how: string[] } {
  if (!z.iso.datetime({ offset: true }).safeParse(at).success) {
    throw new Problem(
      'usage',
      `--at: expected an RFC 3339 time with a zone, such as 2026-05-04T21:10:00+01:00, found ${JSON.stringify(at)}`,
    );
  }
  const { place, start, conditions } = clip.manifest;
  if (!place) {
    throw new Problem(
      'bad-field',
      `${clip.dir}/clip.json: place: expected latitude and longitude, which --at needs, found nothing; write them in, or give --light`,
    );
  }
  const time = new Date(at);
  const light = conditions?.light;
  const scaled =
    start && light !== undefined ? lightAt(time, place, { time: new Date(start), light }) : undefined;
  return scaled === undefined
    ? {
        lux: estimateLight(time, place).lux,
        how: ['light in the open, halfway in stops between clear sky and overcast'],
      }
    : { lux: scaled, how: ['shade and cloud as when it was recorded'] };
}

/** Metres per second at Beaufort 12. */
const STRONGEST = Number(beaufortSpeed(12).toFixed(2));

function swaySaid({ sway }: Setup): string[] {
  return sway === 1 ? [] : [`sway ${significant(sway, 3)} times the assumed amplitude`];
}

function between(low: number, high: number, what: string): (text: string) => number {
  return (text) => {
    const value = Number(text);
    if (text.trim() !== '' && value >= low && value <= high) return value;
    throw new InvalidArgumentError(`Expected ${what} from ${low} to ${high}.`);
  };
}

function asText(
  { dir: path, manifest: { conditions } }: Clip,
  dir: string,
  { from, to }: Setup,
  { frames, seconds, simulated }: Written,
  defaults: readonly string[],
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

function listed(head: string, lines: readonly string[]): string[] {
  if (lines.length === 0) return [];
  const item = (line: string) => `  - ${fold(line, 86).replaceAll('\n', '\n    ')}`;
  return [[head, ...lines.map(item)].join('\n')];
}
