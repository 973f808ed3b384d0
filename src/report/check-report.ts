import { drawMask } from '../camera/mask.js';
import type { ClipChecked } from '../check/check.js';
import type { CheckResult } from '../jobs/check.js';
import type { OpenPorts } from '../jobs/ports.js';
import type { Judged } from '../score/replayed.js';
import { againstWhat, answersText, changesOf } from '../words/check-list.js';
import type { CheckedClipShown, CheckShown } from './check-section.js';
import type { PictureGroup } from './data.js';
import { drawPictures } from './pictures.js';
import { reportOf } from './report.js';
import { type ShotGroup, shotsOf } from './shots.js';

/** Pictures of a kind from one clip. */
const MOST_OF_A_KIND = 12;

/** A report of a check as one HTML file's text: what changed, with pictures, and then the clips as they are replayed now. */
export async function checkReportOf(result: CheckResult, ports: OpenPorts): Promise<string> {
  const { checked, about, replayed } = result;
  const parts: CheckedClipShown[] = [];
  for (const clip of checked.clips) parts.push(await clipShown(clip, replayed, ports));
  const check: CheckShown = {
    verdict: checked.verdict,
    against: againstWhat(checked, about),
    reasons: checked.reasons.map(({ text }) => text),
    elsewhere: answersText(checked.inference),
    clips: parts,
  };
  const { camera, settings, now } = replayed;
  const clips = replayed.clips.map(({ clip }, i) => ({
    clip,
    triggers: now.clips[i]!.triggers.map(({ time }) => time),
  }));
  return reportOf({ title: `A check: ${about.title}`, camera, groups: [{ settings, clips }], check }, ports);
}

const nothing: PictureGroup = { pictures: [], more: 0, people: 0 };

async function clipShown(
  checked: ClipChecked,
  { clips, now, camera, settings }: CheckResult['replayed'],
  ports: OpenPorts,
): Promise<CheckedClipShown> {
  const { clip: name, verdict } = checked;
  const part = { name, verdict, changes: changesOf(checked), lost: nothing, newFalse: nothing };
  const place = now.clips.findIndex(({ clip }) => clip === name);
  const opened = clips[place];
  const result = now.clips[place];
  if (!opened || !result || checked.lost.length + checked.newFalse.length === 0) return part;

  const { clip } = opened;
  const groups = shotsOf(onlyWorse(result.judged, checked), clip.labels, clip.times, MOST_OF_A_KIND);
  ports.onPhase(`${clip.dir}: drawing what changed`);
  const drawn = await drawPictures(clip, camera, [...groups.missed.shots, ...groups.nothing.shots], {
    mask: drawMask(settings.mask ?? clip.labels.mask, camera),
    threshold: settings.threshold,
  });
  const group = ({ shots, more, people }: ShotGroup): PictureGroup => ({
    pictures: drawn.splice(0, shots.length),
    more,
    people,
  });
  // In the order in which they were drawn.
  return { ...part, lost: group(groups.missed), newFalse: group(groups.nothing) };
}

/** Of what was judged, the visits that are newly lost and the triggers that are new false triggers. */
function onlyWorse({ triggers, visits }: Judged, { lost, newFalse }: ClipChecked): Judged {
  const lostPlaces = new Set(lost.map(({ visit }) => visit));
  const newTimes = new Set(newFalse.map(({ time }) => time));
  return {
    triggers: triggers.filter(({ time, verdict }) => verdict === 'false' && newTimes.has(time)),
    visits: visits.filter((_, i) => lostPlaces.has(i)),
    counts: null,
  };
}
