import { powerOf } from '../../outing/power.js';
import { bestOf, chosenAnew, takenOf } from '../../tune/cameras.js';
import type { CameraDoes } from './camera-at-site.js';
import type { CameraNamed } from './camera-names.js';
import type { CameraTold, WhichCamera } from './cameras-told.js';
import { goalOfAll, heldAgainstFirst } from './held-against-first.js';

/**
 * Which of several cameras would serve best, and what comes of choosing one so, on footage that it was not chosen on.
 * @param told of each camera, in their order
 * @param does site by site, what each camera does there, in the same order
 */
export function whichOf(
  told: readonly CameraTold[],
  does: readonly CameraDoes[][],
  cameras: readonly CameraNamed[],
): WhichCamera {
  const all = cameras.map((_, c) => does.reduce((total, here) => total + here[c]!.given, 0));
  const best = bestOf(all);
  const units = does.flatMap((here) =>
    here[0]!.leftOut.map((ofFirst, u) => ({
      ofFirst,
      photographed: here.map(({ leftOut }) => leftOut[u]!),
      // One camera is chosen for all sites: what is left out is missing from one of them.
      given: here.map(({ given, givenWithout }, c) => all[c]! - given + givenWithout[u]!),
    })),
  );
  const { photographed, times } = chosenAnew(units);
  const anew =
    units.length === 0
      ? null
      : heldAgainstFirst(
          units.map(({ ofFirst }) => ofFirst),
          photographed,
          goalOfAll(does.map((here) => here[best]!)),
          [cameras[0]!.camera, cameras[best]!.camera],
        );
  const isOneOfTwo = cameras.length === 2;
  const smallest = told
    .filter(({ work, verdict }) => work < 1 && (verdict === 'as good' || verdict === 'better'))
    .sort((a, b) => a.work - b.work);
  const powers = new Set(cameras.map(({ camera }) => JSON.stringify(powerOf(camera).power)));
  return {
    best: told[best]!.camera,
    chosenAnew: anew && {
      ...takenOf(photographed),
      against: anew.against,
      times: told.map(({ camera }, c) => ({ camera, times: times[c]! })),
    },
    verdict:
      best === 0
        ? 'keep'
        : // Of two there is no choice that could have been lucky: it is told by the one comparison.
          ((isOneOfTwo ? told[best]!.verdict : anew?.verdict) ?? 'too little to tell'),
    enough: smallest[0]?.camera ?? null,
    samePower: powers.size === 1,
  };
}
