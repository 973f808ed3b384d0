import { figure, plural } from '../../../base/figures.js';
import type { NotHeld, Outgoing } from '../format.js';
import { fractionLost, momentOf } from '../moment.js';
import { isHeld, mediumFor, SETUPS, scientificNameOf } from './observations.js';

/** What the labels say and the tables have no column for, a line a kind. */
export function notHeldBy(labels: Outgoing & { start: string }): NotHeld[] {
  const { visits, ignored = [], causes = [], reviewed = [], mask = [], foliage = [] } = labels.labels;
  const from = momentOf(labels.start, 'start');
  const lost = [...visits, ...ignored, ...causes]
    .flatMap(({ start, end }) => [fractionLost(from, start), back(fractionLost(from, end))])
    .filter((fraction) => fraction > 0);
  const { source, times } = labels.clip;
  const shots = Array.from(source.kind === 'video' ? [0] : times, (time) => fractionLost(from, time)).filter(
    (fraction) => fraction > 0,
  );
  const names = visits.filter(
    (visit) => visit.name !== undefined && scientificNameOf(labels, visit) === null,
  ).length;
  const loose = visits.filter(
    (visit) => visit.box && !(isHeld(visit.box) && mediumFor(labels, visit) !== null),
  ).length;
  const reasons = ignored.filter(({ why }) => why !== undefined && !SETUPS.has(why)).length;
  const delay = labels.cooldown ?? 0;
  return [
    line(
      'fractions of a second',
      lost.length,
      TAGS,
      (n) =>
        `eventStart and eventEnd hold whole seconds only: ${plural(n, 'time')} ${n === 1 ? 'is' : 'are'} moved by up to ${figure(lost.reduce((most, one) => Math.max(most, one)))} s, starts back and ends on, so that nothing is cut off`,
    ),
    line(
      'fractions of a second of pictures',
      shots.length,
      null,
      (n) =>
        `the timestamps of ${plural(n, 'picture')} are up to ${figure(shots.reduce((most, one) => Math.max(most, one)))} s early, in whole seconds`,
    ),
    line(
      'names that are not scientific',
      names,
      TAGS,
      (n) =>
        `${plural(n, 'name')} ${n === 1 ? 'is' : 'are'} in observationComments for people, not in scientificName; --scientific-names puts scientific ones there`,
    ),
    line(
      'boxes',
      loose,
      TAGS,
      (n) =>
        `${plural(n, 'box', 'boxes')} of no picture, without an extent or past the edge: not in bboxX to bboxHeight`,
    ),
    line(
      'ignored time',
      ignored.length,
      TAGS,
      (n) =>
        `${plural(n, 'stretch', 'stretches')} that ${n === 1 ? 'does' : 'do'} not count: only as events that nobody classified`,
    ),
    line(
      'reasons of ignored time',
      reasons,
      TAGS,
      (n) => `${plural(n, 'reason')} why time is ignored: in observationComments for people`,
    ),
    line(
      'causes',
      causes.length,
      TAGS,
      (n) => `${plural(n, 'cause')} of what moved: only as events that are blank or that nobody classified`,
    ),
    line(
      'reviewed',
      reviewed.length,
      'deploymentTags',
      (n) => `${plural(n, 'stretch', 'stretches')} that somebody looked through`,
    ),
    line('mask', mask.length, OWN_PLACE, (n) => `${plural(n, 'outline')} of what is not watched`),
    line('foliage', foliage.length, OWN_PLACE, (n) => `${plural(n, 'outline')} of what can sway`),
    line(
      'fractions of the cooldown',
      Number.isInteger(delay) ? 0 : 1,
      null,
      () => `the cooldown of ${figure(delay)} s is cameraDelay ${Math.round(delay)}, in whole seconds`,
    ),
    line(
      'start to a fraction',
      from.fraction > 0 ? 1 : 0,
      null,
      () => `the recording began ${figure(from.fraction)} s after deploymentStart`,
    ),
  ].flat();
}

const TAGS = 'observationTags';
const OWN_PLACE = 'datapackage.json';

/** What rounding up adds where rounding down takes a fraction off. */
function back(fraction: number): number {
  return fraction > 0 ? 1 - fraction : 0;
}

function line(what: string, count: number, kept: string | null, says: (n: number) => string): NotHeld[] {
  if (count === 0) return [];
  const rest = kept === null ? '' : `; kept for this program in ${kept}`;
  return [{ what, count, kept, says: `${says(count)}${rest}` }];
}
