import { type Command, InvalidArgumentError } from 'commander';
import { Problem } from '../base/problem.js';
import type { Output } from '../files/output.js';
import { openOutputFolder } from '../files/output-folder.js';
import { readForecast } from '../jobs/plan/read-forecast.js';
import {
  type Awake,
  awakeFrom,
  type PlanResult,
  planDocument,
  USUAL_AWAKE,
  USUAL_WALK,
} from '../jobs/plan.js';
import { tellingPlaces } from '../jobs/ports.js';
import type { AllowanceWanted } from '../jobs/tune/wanted.js';
import { MOST_ALLOWED } from '../tune/goal.js';
import { planAdvice } from '../words/plan-wording.js';
import { allowanceFrom, atMostOne } from './allowance.js';
import { examples } from './examples.js';
import { atLeastNone, between, hoursADay } from './numbers.js';
import {
  CAMERA,
  CLIPS_OR_PROJECT,
  JSON_OUT,
  PHOTOS_PER_DAY,
  RECORDED_ONLY,
  SEED,
  SITE,
  WORTH,
} from './options.js';
import { FORCE, openOutputs, refuseAmongWritten, rulesFor } from './outputs.js';
import { planSpots } from './plan-spots.js';
import { planText } from './plan-text.js';
import { print } from './print.js';
import { terminalPorts } from './progress.js';
import { clipsOf, spotsOf } from './project.js';
import { labelledOnes } from './tune-spots.js';
import { writePlan } from './write-plan.js';
import { writtenText } from './write-settings.js';

interface Options {
  camera?: string;
  site?: string;
  forecast: string;
  worth?: number;
  falsePerHour?: number;
  photosPerDay?: number;
  hoursOut?: number;
  walk?: number;
  awake?: Awake;
  recordedOnly?: true;
  seed: string;
  calendar?: string;
  report?: string;
  write?: string;
  force?: true;
  json?: true;
}

const FORECAST_HELP = `
The forecast is a CSV file with a header and a row for every hour, or every three:

  time,wind,gust,rain,cloud
  2026-05-04T06:00:00+01:00,3.1,6.0,0,40
  2026-05-04T07:00:00+01:00,4.4,7.5,0.3,90

  time      RFC 3339 with a zone; each row holds until the next
  wind      mean wind 10 m above ground, m/s; or, instead of it, a column
            beaufort with its number
  gust      m/s; may be left out. Counts as the mean wind that brings such
            gusts along, 1/1.65 of it, where that is more than the wind
  rain      mm an hour; left out: dry
  cloud     % of the sky; left out: half-way between clear and thick cloud

Wind counts from Beaufort 4, rain from 0.1 mm/h, low light below 50 lux.`;

export function addPlan(program: Command): void {
  program
    .command('plan')
    .description(
      'Says which settings to use in the hours of a weather forecast, what to expect in them, when it is too dark, and whether changing settings is worth the walks to the camera.',
    )
    .argument('[clip...]', `labelled ${CLIPS_OR_PROJECT}`)
    .requiredOption('--forecast <csv>', 'the weather of the coming hours; see below')
    .option(...CAMERA)
    .option(...SITE)
    .option(...WORTH)
    .option(
      '--false-per-hour <n>',
      'false triggers to put up with in any hour; --worth then counts against walks alone',
      atLeastNone,
    )
    .option(...PHOTOS_PER_DAY)
    .option('--hours-out <n>', 'hours a day that the camera is out, for --photos-per-day', hoursADay)
    .option(
      '--walk <n>',
      `photos of nothing that a walk to a camera is worth (default: ${USUAL_WALK})`,
      between(0, MOST_ALLOWED, 'a number of photos'),
    )
    .option(
      '--awake <hours>',
      `when you may walk to a camera, by the clock of the forecast (default: ${USUAL_AWAKE.from}-${USUAL_AWAKE.until})`,
      hoursAwake,
    )
    .option(...RECORDED_ONLY)
    .option(...SEED)
    .option('--calendar <file>', 'also write what to set when, as an iCalendar file for your phone')
    .option('--report <file>', 'also write one HTML file with a figure of the week')
    .option('--write <dir>', 'also write settings files, and for each site a card of these days')
    .option(...FORCE)
    .option(...JSON_OUT)
    .addHelpText(
      'after',
      examples([
        ['plan my-clip windy-clip --forecast week.csv', 'what to set in the coming days'],
        ['plan --forecast week.csv', 'in the folder of a project: at each of its spots'],
        ['plan my-clip --forecast week.csv --false-per-hour 6', 'at most so many false triggers in any hour'],
        [
          'plan my-clip --forecast week.csv --calendar week.ics --write set',
          'and take it along, on the phone and on paper',
        ],
      ]),
    )
    .addHelpText('after', FORECAST_HELP)
    .action(run);
}

function hoursAwake(text: string): Awake {
  try {
    return awakeFrom(text, '--awake');
  } catch (error) {
    if (error instanceof Problem) throw new InvalidArgumentError(error.message);
    throw error;
  }
}

/** What is allowed in any hour; undefined: settings are chosen by worth. */
function allowanceOf(options: Options): AllowanceWanted | undefined {
  const { falsePerHour, photosPerDay, hoursOut } = options;
  atMostOne({ '--photos-per-day': photosPerDay, '--false-per-hour': falsePerHour });
  if (hoursOut !== undefined && photosPerDay === undefined) {
    throw new Problem(
      'usage',
      '--hours-out: expected together with --photos-per-day; add it or leave it out',
    );
  }
  return allowanceFrom(options);
}

async function run(paths: string[], options: Options): Promise<void> {
  const allowance = allowanceOf(options);
  const ports = await terminalPorts();
  const forecast = await readForecast(options.forecast);
  const { camera, site } = options;
  const { spots, reads: read } = await spotsOf('plan', { clips: paths, camera, site }, ports);
  const reads = [options.forecast, ...read];
  // Its folder may be that of the others too.
  if (options.write !== undefined) await openOutputFolder('--write', options.write);
  const { report, calendar } = await openOutputs(
    { report: options.report, calendar: options.calendar },
    reads,
    options,
    ports,
  );
  if (options.write !== undefined) {
    await refuseAmongWritten('--report', report, options.write);
    await refuseAmongWritten('--calendar', calendar, options.write);
  }
  const open = labelledOnes(spots, await clipsOf(spots, ports), ports);
  const clips = open.flatMap(({ opened }) => opened);
  const told = tellingPlaces(
    ports,
    clips.map(({ dir }) => dir),
  );
  const { worth, walk, awake, recordedOnly, seed } = options;
  const { result, cameraOf } = await planSpots(
    open,
    { forecast, allowance, worth, walk, awake, recordedOnly, seed },
    told,
  );
  const cameras = [...new Set(result.sites.map((one) => cameraOf(one).name))];
  if (report) {
    // Loaded only where it is asked for: what draws takes longer to load than all the rest.
    const { planReportHtml } = await import('../report/plan-report.js');
    await report.write(planReportHtml(result, cameras.join(' and ')));
  }
  const isCalendar = calendar !== null && (await writeCalendar(result, calendar, ports.onWarning));
  const settings =
    options.write === undefined
      ? []
      : await writePlan(
          result,
          options.write,
          cameraOf,
          rulesFor(reads, options, ports),
          async (one) => {
            const { planCardOf } = await import('../report/plan-card.js');
            return planCardOf(one, result, clips, cameraOf(one), told);
          },
          ports.onWarning,
        );
  const written = [...(report ? [report.path] : []), ...(isCalendar ? [calendar.path] : []), ...settings];
  print(
    options,
    ports,
    () => planDocument(result),
    () => [planText(result), ...writtenText(written)].join('\n\n'),
  );
}

/** A calendar without anything in it is none. @returns whether it was written */
async function writeCalendar(
  result: PlanResult,
  calendar: Output,
  note: (line: string) => void,
): Promise<boolean> {
  const { calendarOf, errandsOf } = await import('../report/plan-calendar.js');
  if (errandsOf(result).length > 0) {
    await calendar.write(calendarOf(result));
    return true;
  }
  const why = result.sites.every((site) => planAdvice(site) === 'too little')
    ? 'too little to tell what to set'
    : 'nothing needs setting: what is in use stays';
  note(`${calendar.path}: ${why}, so no calendar was written`);
  return false;
}
