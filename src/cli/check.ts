import type { Command } from 'commander';
import { Problem } from '../base/problem.js';
import { type Accepted, readAccepted, writeAccepted } from '../check/accepted.js';
import { readOther } from '../check/against.js';
import { type Checked, check } from '../check/check.js';
import type { Replayed } from '../check/results.js';
import { cameraOf, readSuite, settingsOf } from '../check/suite.js';
import { writeAtomic } from '../files/atomic.js';
import { openSuite, replayShown } from '../jobs/check/replay-suite.js';
import { openCache } from '../jobs/open.js';
import { junitXml } from '../report/junit.js';
import { type CheckAbout, checkText } from './check-text.js';
import { NotHeld } from './not-held.js';

interface Options {
  accept?: true;
  why?: string;
  against?: string[];
  junit?: string;
  report?: string;
  json?: true;
}

export function addCheck(program: Command): void {
  program
    .command('check')
    .summary('have results got worse since the accepted ones?')
    .description(
      'Replays the clips of a suite and holds what they give against the results accepted before. Fails (exit code 1) where a visit is newly lost, a limit is broken or a clip cannot be compared, until somebody accepts it.',
    )
    .argument('[suite]', 'suite.json: clips, camera, settings, limits')
    .option('--accept', 'keep what the suite gives now as the accepted results; needs --why')
    .option('--why <text>', 'why they are accepted, kept with them')
    .option(
      '--against <file>',
      "another camera or other settings, held against the suite's own; may be given twice, for one of each",
      (file: string, earlier: string[] = []) => [...earlier, file],
    )
    .option('--junit <file>', 'also write JUnit XML, for CI services')
    .option('--report <file>', 'also write one HTML file with pictures')
    .option('--json', 'one JSON document on standard output')
    .action(run);
}

async function run(file: string | undefined, options: Options): Promise<void> {
  const why = reasonFrom(options);
  if (file === undefined) {
    throw new Problem(
      'usage',
      'check: expected a suite file, found none; perchmark schema suite prints what goes into one',
    );
  }
  const suite = await readSuite(file);
  const camera = await cameraOf(suite);
  const own = { camera, settings: await settingsOf(suite, camera) };
  const other = options.against ? await readOther(options.against, suite, camera) : null;
  const accepted = other ? null : await readAccepted(suite.acceptedFile);
  const cache = await openCache();
  const clips = await openSuite(suite, cache);
  const first = await replayShown(clips, own, cache);
  const now = other ? await replayShown(clips, other, cache) : first;
  const found = check(suite, other ? first : accepted, now);
  const checked = why === null ? found : onceAccepted(found);

  const about: CheckAbout = {
    file,
    against: options.against ?? null,
    before: accepted?.why ?? null,
    accepted: why === null ? null : { file: suite.acceptedFile, why },
  };
  if (options.junit) await writeAtomic(options.junit, junitXml(suite.title, checked));
  if (options.report) {
    const shown = { ...(other ?? own), clips, now, checked, about, title: suite.title, cache };
    // Loaded only where it is asked for: what draws takes longer to load than a check to answer.
    const { writeCheckReport } = await import('../report/check-report.js');
    await writeCheckReport(options.report, shown);
  }
  if (why !== null) await writeAccepted(suite.acceptedFile, acceptedFrom(now, found, why));
  process.stdout.write(options.json ? `${asJson(checked, about)}\n` : `${checkText(checked, about)}\n`);
  if (checked.verdict === 'fails') throw new NotHeld();
}

/** Why results are to be accepted; null where they are not. */
function reasonFrom({ accept, why, against }: Options): string | null {
  const wrong = (text: string): never => {
    throw new Problem('usage', text);
  };
  if (!accept) {
    return why === undefined
      ? null
      : wrong('--why: expected together with --accept; add it or leave both out');
  }
  if (against) {
    wrong(
      "--accept and --against: expected one of the two, for only a suite's own results are accepted; put the other settings into the suite first",
    );
  }
  const reason = why?.trim() ?? '';
  return reason !== ''
    ? reason
    : wrong('--accept: expected a reason, found none; add --why "what changed, and why that is right"');
}

/** The same differences, now that somebody has accepted them. */
function onceAccepted(found: Checked): Checked {
  const limits = found.limits.map((limit) => ({ ...limit, accepted: !limit.holds }));
  return { ...found, verdict: 'holds', reasons: [], limits };
}

function acceptedFrom(now: Replayed, { limits }: Checked, why: string): Accepted {
  const broken = limits.filter(({ holds }) => !holds);
  const brokenLimits = broken.map(({ clip, limit, bound, value }) => ({ clip, limit, bound, value }));
  return { ...now, why, brokenLimits };
}

function asJson({ verdict, reasons, changed, ...rest }: Checked, { before, accepted }: CheckAbout): string {
  const why = { before, now: accepted?.why ?? null };
  return JSON.stringify({ verdict, reasons, accepted: why, changed, ...rest }, null, 2);
}
