import { Problem } from '../base/problem.js';
import type { Camera } from '../camera/description.js';
import type { ResolvedSettings } from '../camera/settings.js';
import { type Accepted, readAccepted, writeAccepted } from '../check/accepted.js';
import { readOther } from '../check/against.js';
import { type Checked, check as holdAgainst } from '../check/check.js';
import type { Firmware } from '../check/firmware/replay.js';
import type { Replayed } from '../check/results.js';
import { cameraOf, readSuite, type Suite, settingsOf } from '../check/suite.js';
import { noteBefore, openSuite, replaySuiteClips, type SuiteClip } from './check/replay-suite.js';
import { type OpenPorts, openPorts, type Ports } from './ports.js';

export type { Checked } from '../check/check.js';
export { type Firmware, PATIENCE } from '../check/firmware/replay.js';

export interface CheckInput {
  /** The file of the suite, or a suite that was read. */
  suite: string | Suite;
  /** Files of another camera and of other settings, at most one of each, to be held against the suite's own. */
  against?: readonly string[] | undefined;
  /** Why what it gives now is to be accepted, and kept beside the suite; left out: nothing is accepted. */
  accept?: string | undefined;
  /** A program that fires in the place of the camera's description. */
  firmware?: Firmware | undefined;
}

/** What a check was made of and against what. */
export interface CheckAbout {
  /** The suite's file, as given, and its title. */
  file: string;
  title: string;
  /** The command that fired; null: the camera's description, replayed. */
  command: string | null;
  /**
   * Files of another camera and settings; null: against accepted results. Of a command these say what it is held against, and
   * what it is run under.
   */
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
 *
 * A firmware fires in the place of the camera's description. With `against` it is held against what the description in those
 * files gives, under the same camera and settings: a program that is held against itself would always hold.
 * @throws Problem for anything wrong with the suite or what it names; the signal's reason when aborted
 */
export async function check(input: CheckInput, ports: Ports = {}): Promise<CheckResult> {
  const { against = null, accept: why, firmware } = input;
  if (against && why !== undefined) {
    throw new Problem(
      'usage',
      "--accept and --against: expected one of the two, because only a suite's own results can be accepted; put the other settings into the suite first",
    );
  }
  const open = await openPorts(ports);
  const suite = typeof input.suite === 'string' ? await readSuite(input.suite) : input.suite;
  const camera = await cameraOf(suite);
  const own = { camera, settings: await settingsOf(suite, camera) };
  const other = against ? await readOther(against, suite, camera) : null;
  const accepted = other ? null : await readAccepted(suite.acceptedFile);
  const clips = await openSuite(suite, open);
  const tried = other ?? own;
  const base = firmware && other ? other : own;
  for (const one of new Set([base, tried])) noteBefore(clips, one, open);
  const now = await replaySuiteClips(clips, tried, open, firmware);
  const before = other ? await replaySuiteClips(clips, base, open) : accepted;
  if (firmware && why !== undefined) {
    noteUnlike(now, await replaySuiteClips(clips, own, open, firmware), open);
  }
  const found = holdAgainst(suite, before, now);
  if (why !== undefined) await writeAccepted(suite.acceptedFile, acceptedFrom(now, found, why));
  return {
    checked: why === undefined ? found : onceAccepted(found),
    about: {
      file: suite.file,
      title: suite.title,
      command: firmware?.command ?? null,
      against,
      before: accepted?.why ?? null,
      accepted: why === undefined ? null : { file: suite.acceptedFile, why },
    },
    replayed: { clips, ...tried, now },
  };
}

/** The document of `check --json`. */
export function checkDocument({ checked, about }: Pick<CheckResult, 'checked' | 'about'>) {
  const { verdict, reasons, changed, ...rest } = checked;
  const why = { before: about.before, now: about.accepted?.why ?? null };
  return { verdict, reasons, accepted: why, command: about.command, changed, ...rest };
}

/** Tells where a program fires otherwise when it is run once more: checks of it will fail by chance. */
function noteUnlike(first: Replayed, second: Replayed, { onWarning }: OpenPorts): void {
  for (const [i, { clip, triggers }] of first.clips.entries()) {
    const times = new Set(triggers.map(({ time }) => time));
    const again = new Set(second.clips[i]!.triggers.map(({ time }) => time));
    const only = (some: Set<number>, others: Set<number>) =>
      [...some].filter((time) => !others.has(time)).length;
    const [gone, added] = [only(times, again), only(again, times)];
    if (gone + added === 0) continue;
    onWarning(
      `${clip}: the command fired otherwise when it was run once more: ${gone} of ${times.size} triggers gone, ${added} new; the first run is what was accepted, and checks may fail by chance until it always does the same`,
    );
  }
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
