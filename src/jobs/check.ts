import { Problem } from '../base/problem.js';
import type { Camera } from '../camera/description.js';
import type { ResolvedSettings } from '../camera/settings.js';
import { type Accepted, readAccepted, writeAccepted } from '../check/accepted.js';
import { readOther } from '../check/against.js';
import { type Checked, check as holdAgainst } from '../check/check.js';
import type { Replayed } from '../check/results.js';
import { cameraOf, readSuite, type Suite, settingsOf } from '../check/suite.js';
import { openSuite, replaySuiteClips, type SuiteClip } from './check/replay-suite.js';
import { openPorts, type Ports } from './ports.js';

export type { Checked } from '../check/check.js';

export interface CheckInput {
  /** The file of the suite, or a suite that was read. */
  suite: string | Suite;
  /** Files of another camera and of other settings, at most one of each, to be held against the suite's own. */
  against?: readonly string[] | undefined;
  /** Why what it gives now is to be accepted, and kept beside the suite; left out: nothing is accepted. */
  accept?: string | undefined;
}

/** What a check was made of and against what. */
export interface CheckAbout {
  /** The suite's file, as given, and its title. */
  file: string;
  title: string;
  /** Files of another camera and settings; null: against accepted results. */
  against: readonly string[] | null;
  /** Why the results before were accepted; null where none were. */
  before: string | null;
  /** Where results were accepted just now, and why. */
  accepted: { file: string; why: string } | null;
}

export interface CheckResult {
  checked: Checked;
  about: CheckAbout;
  /** What was replayed, for pictures of it: clips in the suite's order, under this camera and these settings. */
  replayed: { clips: readonly SuiteClip[]; camera: Camera; settings: ResolvedSettings; now: Replayed };
}

/**
 * Replays the clips of a suite and holds what they give against the results accepted before. It fails where a visit is
 * newly lost, a limit is broken or a clip cannot be compared, until somebody accepts it.
 * @throws Problem for anything wrong with the suite or what it names; the signal's reason when aborted
 */
export async function check(input: CheckInput, ports: Ports = {}): Promise<CheckResult> {
  const { against = null, accept: why } = input;
  if (against && why !== undefined) {
    throw new Problem(
      'usage',
      "--accept and --against: expected one of the two, for only a suite's own results are accepted; put the other settings into the suite first",
    );
  }
  const open = await openPorts(ports);
  const suite = typeof input.suite === 'string' ? await readSuite(input.suite) : input.suite;
  const camera = await cameraOf(suite);
  const own = { camera, settings: await settingsOf(suite, camera) };
  const other = against ? await readOther(against, suite, camera) : null;
  const accepted = other ? null : await readAccepted(suite.acceptedFile);
  const clips = await openSuite(suite, open);
  const first = await replaySuiteClips(clips, own, open);
  const now = other ? await replaySuiteClips(clips, other, open) : first;
  const found = holdAgainst(suite, other ? first : accepted, now);
  if (why !== undefined) await writeAccepted(suite.acceptedFile, acceptedFrom(now, found, why));
  return {
    checked: why === undefined ? found : onceAccepted(found),
    about: {
      file: suite.file,
      title: suite.title,
      against,
      before: accepted?.why ?? null,
      accepted: why === undefined ? null : { file: suite.acceptedFile, why },
    },
    replayed: { clips, ...(other ?? own), now },
  };
}

/** The document of `check --json`. */
export function checkDocument({ checked, about }: Pick<CheckResult, 'checked' | 'about'>) {
  const { verdict, reasons, changed, ...rest } = checked;
  const why = { before: about.before, now: about.accepted?.why ?? null };
  return { verdict, reasons, accepted: why, changed, ...rest };
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
