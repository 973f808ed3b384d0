import type { Camera } from '../camera/description.js';
import { drawMask } from '../camera/mask.js';
import type { ResolvedSettings } from '../camera/settings.js';
import type { Checked, ClipChecked } from '../check/check.js';
import type { Replayed } from '../check/results.js';
import { againstWhat, type CheckAbout } from '../cli/check-text.js';
import { Progress } from '../cli/progress.js';
import type { SuiteClip } from '../jobs/check/replay-suite.js';
import type { Judged } from '../score/replayed.js';
import type { Cache } from '../store/cache.js';
import { answersText, changesOf } from '../words/check-list.js';
import type { CheckedClipShown, CheckShown } from './check-section.js';
import type { PictureGroup } from './data.js';
import { drawPictures } from './pictures.js';
import { writeReport } from './report.js';
import { type ShotGroup, shotsOf } from './shots.js';

/** Pictures of a kind from one clip. */
const MOST_OF_A_KIND = 12;

interface Shown {
  title: string;
  camera: Camera;
  settings: ResolvedSettings;
  clips: readonly SuiteClip[];
  now: Replayed;
  checked: Checked;
  about: CheckAbout;
  cache: Cache;
}

/** Writes a report of a check: what changed, with pictures, and then the clips as they are replayed now. */
export async function writeCheckReport(file: string, shown: Shown): Promise<void> {
  const { checked, clips, now, about } = shown;
  const parts: CheckedClipShown[] = [];
  for (const clip of checked.clips) parts.push(await clipShown(clip, shown));
  const check: CheckShown = {
    verdict: checked.verdict,
    against: againstWhat(checked, about),
    reasons: checked.reasons.map(({ text }) => text),
    elsewhere: answersText(checked.inference),
    clips: parts,
  };
  const replayed = clips.map(({ clip }, i) => ({
    clip,
    triggers: (now.clips[i] as Replayed['clips'][number]).triggers.map(({ time }) => time),
  }));
  await writeReport(file, { ...shown, title: `A check: ${shown.title}`, clips: replayed, check });
}

const nothing: PictureGroup = { pictures: [], more: 0, people: 0 };

async function clipShown(checked: ClipChecked, shown: Shown): Promise<CheckedClipShown> {
  const { clip: name, verdict } = checked;
  const part = { name, verdict, changes: changesOf(checked), lost: nothing, newFalse: nothing };
  const place = shown.now.clips.findIndex(({ clip }) => clip === name);
  const opened = shown.clips[place];
  const result = shown.now.clips[place];
  if (!opened || !result || checked.lost.length + checked.newFalse.length === 0) return part;

  const { clip } = opened;
  const { camera, settings } = shown;
  const groups = shotsOf(onlyWorse(result.judged, checked), clip.labels, clip.times, MOST_OF_A_KIND);
  const progress = new Progress(`${clip.dir}: drawing what changed`);
  const drawn = await drawPictures(clip, camera, [...groups.missed.shots, ...groups.nothing.shots], {
    mask: drawMask(settings.mask ?? clip.labels.mask, camera),
    threshold: settings.threshold,
  });
  progress.end();
  const group = ({ shots, more, people }: ShotGroup): PictureGroup => ({
    pictures: drawn.splice(0, shots.length),
    more,
    people,
  });
  // In the order in which they were drawn.
  return { ...part, lost: group(groups.missed), newFalse: group(groups.nothing) };
}

/** Of what was judged, the visits that are newly lost and the triggers that are newly at nothing. */
function onlyWorse({ triggers, visits }: Judged, { lost, newFalse }: ClipChecked): Judged {
  const lostPlaces = new Set(lost.map(({ visit }) => visit));
  const newTimes = new Set(newFalse.map(({ time }) => time));
  return {
    triggers: triggers.filter(({ time, verdict }) => verdict === 'false' && newTimes.has(time)),
    visits: visits.filter((_, i) => lostPlaces.has(i)),
    counts: null,
  };
}
