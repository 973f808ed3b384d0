import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import seedrandom from 'seedrandom';
import { it } from 'vitest';
import { agreementOf } from '../../src/fit/agreement.js';
import { fit as fitTo } from '../../src/jobs/fit.js';
import { replay } from '../../src/jobs/replay.js';
import { Cache } from '../../src/store/cache.js';
import { hiddenCameras } from './fit/cameras.js';
import { firedAt, type Hidden, writeFilm } from './fit/hidden.js';
import type { FilmPlan } from './fit/yard-film.js';

const SECONDS = Number(process.env.FIT_SECONDS ?? 600);
const ONLY = process.env.FIT_ONLY;
const TELL = process.env.FIT_TELL;
const film: FilmPlan = {
  width: Number(process.env.FIT_WIDTH ?? 320),
  height: (Number(process.env.FIT_WIDTH ?? 320) * 3) / 4,
  frames: SECONDS * 5,
  rate: 5,
  seed: 'fit one',
  noise: 1.6,
  between: 14,
};
const other: FilmPlan = { ...film, seed: 'fit two' };
/** Seconds within which a trigger on the other clip is right. */
const WITHIN = 0.5;

const folder = process.env.FIT_FOLDER ?? mkdtempSync(join(tmpdir(), 'fit-'));

type Disturb = (fired: readonly number[], random: () => number) => number[];
const disturbances: Record<string, Disturb> = {
  exact: (fired) => [...fired],
  'whole seconds, 41 s ahead': (fired) => fired.map((time) => Math.floor(time + 41.3)),
  '5 % missing, 1.2 s late': (fired, random) =>
    fired.filter(() => random() > 0.05).map((time) => time + 1.2 + 0.05 * random()),
};

it('finds hidden cameras by when they fire', async () => {
  const cache = new Cache(join(folder, 'cache'));
  const chosen = hiddenCameras.filter(({ name }) => !ONLY || name.includes(ONLY));
  if (!existsSync(join(folder, 'two', 'clip.json'))) {
    await writeFilm(join(folder, 'one'), film);
    await writeFilm(join(folder, 'two'), other);
  }
  const firedOne = firedAt(film, chosen);
  const firedTwo = firedAt(other, chosen);
  for (const [i, hidden] of chosen.entries()) {
    for (const [how, disturb] of Object.entries(disturbances)) {
      const random = seedrandom(`${hidden.name} ${how}`);
      const began = Date.now();
      const fired = disturb(firedOne[i]!, random);
      const found = await fitTo({ clip: join(folder, 'one'), fired }, {
        cache,
        onPhase: TELL ? console.log : undefined,
      } as never);
      const took = (Date.now() - began) / 1000;
      const { camera, settings } = found;
      const { clips } = await replay(
        { clips: [join(folder, 'two')], camera, settings: { version: 1, ...settings } },
        { cache },
      );
      const triggers = clips[0]!.triggers.map(({ time }) => time);
      const { f1 } = agreementOf(Float64Array.from(firedTwo[i]!), triggers, { most: WITHIN });
      console.log(
        [
          hidden.name,
          how,
          `fired ${fired.length}`,
          `F1 here ${found.agreement.f1.toFixed(3)}`,
          `held out ${found.heldOut?.toFixed(3)}`,
          `F1 there ${f1.toFixed(3)}`,
          `${took.toFixed(0)} s`,
        ].join(' | '),
      );
      console.log(`   hidden ${told(hidden)}`);
      const { analysis, reference, area } = camera;
      console.log(
        `   found  ${told({ name: '', width: analysis.width, height: analysis.height, smooth: analysis.smooth, reference, whileBusy: reference.whileBusy, area, ...settings } as Hidden)} offset ${found.offset} equally ${found.equallyGood.length}`,
      );
    }
  }
  if (!process.env.FIT_FOLDER) rmSync(folder, { recursive: true });
});

function told({
  width,
  smooth,
  reference,
  whileBusy = 'continues',
  area,
  threshold,
  minimumArea,
  persistence,
  cooldown,
}: Hidden): string {
  const back = reference.kind === 'previous' ? reference.lag : reference.seconds;
  return `${width} s${smooth} ${reference.kind} ${back} ${whileBusy} ${area} t${threshold} a${minimumArea} p${persistence} c${cooldown}`;
}
