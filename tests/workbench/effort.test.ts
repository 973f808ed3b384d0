import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { defaultCamera as camera } from '../../src/camera/default.js';
import { positions, valueAt } from '../../src/camera/dials.js';
import { levelOf } from '../../src/engine/triggers.js';
import { openClips } from '../../src/jobs/open.js';
import { evidenceOf } from '../../src/measure/evidence.js';
import type { Labels } from '../../src/score/labels.js';
import { holds, type Stretch, touchesAny, union } from '../../src/score/stretches.js';
import { Cache } from '../../src/store/cache.js';
import { whatToAsk } from '../../src/tune/moments/ask.js';
import { knower } from '../../src/tune/moments/known.js';
import { asReviewed, asVisit, withFound } from '../../src/tune/moments/visits.js';
import { picturesOf } from '../../src/workbench/page/views/moments/spaced.js';
import { scratch } from '../support/workbench.js';

const SCENE = fileURLToPath(new URL('../../clips/water-bowl-busy.json', import.meta.url));
/** As on the page. */
const ROWS = 12;

/**
 * Whoever labels here knows the truth of a picture, and sees no more than is shown: the close-up of a moment and the row of
 * pictures from its beginning to its end. From the close-ups alone two of the nine visits would be overlooked. One key
 * answers, and leads on to the next moment that is open.
 */
it('finds all visits of the busiest scene with at most a fifth of the looks and presses of stepping', async () => {
  const nothing = () => undefined;
  // The scenes themselves are kept from one run of the tests to the next.
  const cache = process.env.PERCHMARK_CACHE ? new Cache(process.env.PERCHMARK_CACHE) : new Cache(scratch());
  const ports = { cache, onPhase: nothing, onProgress: nothing, onWarning: nothing };
  const [clip] = await openClips([SCENE], ports);
  const truth = clip!.labels!;
  const { seconds, times: frames } = clip!;
  const levels = positions(camera.controls.sensitivity!)
    .map((position) => levelOf(valueAt(camera.controls.sensitivity!, position)))
    .sort((a, b) => a - b);
  const { times, bothColumns } = await evidenceOf(clip!, camera, null, levels[0]!, ports);
  const evidence = { levels, times, ...(await bothColumns(levels)) };
  const inView = (type: string) => union(truth.visits.filter((visit) => visit.type === type));
  const [animals, people] = [inView('animal'), inView('human')];

  let labels: Labels = { version: 1, reviewed: [], visits: [] };
  let looks = 0;
  let presses = 0;
  for (;;) {
    const now = await whatToAsk(evidence, camera, labels, seconds, 10, 'water-bowl-busy');
    const sheet = now.order.slice(0, ROWS).map((row) => now.rows[row]!);
    if (sheet.length === 0) break;
    for (const { members } of sheet) {
      const tells = knower(labels);
      const moments = members.map((member) => now.moments[member]!);
      // A visit that was just marked may hold it.
      if (moments.every((moment) => tells(moment) !== null)) continue;
      const pictures = moments.flatMap((moment) => [moment.peakTime, ...picturesOf(moment, seconds)]);
      looks += pictures.length;
      presses++;
      const of = (stretches: Stretch[]) =>
        pictures.some((time) => stretches.some((stretch) => holds(stretch, time)));
      const visits = of(animals) || of(people) ? moments.map((moment) => asVisit(moment, seconds)) : [];
      const looked = moments.map((moment) => asReviewed(moment, camera, seconds));
      labels = withFound(labels, looked, visits, of(animals) ? 'animal' : 'human');
    }
  }
  const found = union(labels.visits.filter(({ type }) => type === 'animal'));
  const real = truth.visits.filter(({ type }) => type === 'animal');

  // Stepping: every frame is looked at, a press leads from each to the next, and two mark each visit.
  const marks = 2 * truth.visits.length;
  const stepping = { looks: frames.length, presses: frames.length - 1 + marks };
  const bySecond = { looks: Math.ceil(seconds), presses: Math.ceil(seconds) - 1 + marks };
  console.log(
    `water-bowl-busy by moments: ${looks} looks, ${presses} presses, ${real.filter((visit) => touchesAny(found, visit)).length} of ${real.length} visits; frame by frame ${stepping.looks} and ${stepping.presses}; second by second ${bySecond.looks} and ${bySecond.presses}`,
  );
  expect(real.filter((visit) => !touchesAny(found, visit))).toEqual([]);
  expect(real).toHaveLength(9);
  expect(looks).toBeLessThanOrEqual(stepping.looks / 5);
  expect(presses).toBeLessThanOrEqual(stepping.presses / 5);
});
