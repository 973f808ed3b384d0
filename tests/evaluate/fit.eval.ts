import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import seedrandom from 'seedrandom';
import { it } from 'vitest';
import { agreementOf } from '../../src/fit/score/agreement.js';
import { fit as fitTo } from '../../src/jobs/fit.js';
import { replay } from '../../src/jobs/replay.js';
import { Cache } from '../../src/store/cache.js';
import { hiddenCameras } from './fit/cameras.js';
import { drawnCameras } from './fit/drawn-cameras.js';
import { type Beside, firedAt, type Hidden, writeFilm } from './fit/hidden.js';
import type { FilmPlan } from './fit/yard-film.js';

const SECONDS = Number(process.env.FIT_SECONDS ?? 300);
/** Only cameras whose name holds this. */
const ONLY = process.env.FIT_ONLY;
/** Judges, on films of its own, cameras drawn by this seed and not those that the search was tried on; whole seconds alone. */
const DRAWN = process.env.FIT_DRAWN;
/** Tells all of the fixed cameras' times in whole seconds, and no other way. */
const WHOLE = process.env.FIT_WHOLE;
/** Kept from run to run where it is given. */
const FOLDER = process.env.FIT_FOLDER;
const film: FilmPlan = {
  width: 160,
  height: 120,
  frames: SECONDS * 5,
  rate: 5,
  seed: DRAWN === undefined ? 'fit one' : `${DRAWN} one`,
  noise: 1.6,
  between: 11,
};
const other: FilmPlan = { ...film, seed: DRAWN === undefined ? 'fit two' : `${DRAWN} two` };
/** Seconds within which a trigger on the other clip is right. */
const WITHIN = 0.5;

interface Way {
  name: string;
  told: (fired: readonly number[], random: () => number) => number[];
  beside?: Beside;
}
const exact: Way = { name: 'exact', told: (fired) => [...fired] };
const ways: Way[] = [
  { name: 'whole seconds, 41 s ahead', told: (fired) => fired.map((time) => Math.floor(time + 41.3)) },
  {
    name: '5 % missing, shutter 1.2 s late',
    told: (fired, random) => fired.filter(() => random() >= 0.05).map((time) => time + 1.2 + 0.05 * random()),
  },
  {
    name: 'clock gains 1 s an hour, 58 s behind',
    told: (fired) => fired.map((time) => time * (1 + 1 / 3600) - 58),
  },
  { name: '3 % of frames lost', told: (fired) => [...fired], beside: { lost: 0.03 } },
  {
    name: 'a second lens beside it',
    told: (fired) => [...fired],
    beside: { lens: [0.03, 0.02, 0.94, 0.94] },
  },
];

const folder = FOLDER ?? mkdtempSync(join(tmpdir(), 'fit-'));
const [here, there] = [join(folder, 'one'), join(folder, 'two')] as const;

it('finds hidden cameras by when they fire', async () => {
  const cache = new Cache(join(folder, 'cache'));
  const chosen = only(DRAWN === undefined ? hiddenCameras : firing(drawnCameras(DRAWN, DRAWN_OF)));
  if (!existsSync(join(there, 'clip.json'))) {
    await writeFilm(here, film);
    await writeFilm(there, other);
  }
  console.log(
    '| camera | times | triggers | F1 here | last third | F1 on the other clip | as good | processor | found |',
  );
  for (const way of DRAWN === undefined && WHOLE === undefined ? [exact, ...ways] : ways.slice(0, 1)) {
    const inThisWay = chosen.filter(
      (hidden) =>
        DRAWN !== undefined ||
        WHOLE !== undefined ||
        way === exact ||
        ways[hiddenCameras.indexOf(hidden) % ways.length] === way,
    );
    if (inThisWay.length === 0) continue;
    const firedHere = firedAt(film, inThisWay, way.beside);
    const firedThere = firedAt(other, inThisWay, way.beside);
    for (const [i, hidden] of inThisWay.entries()) {
      const fired = way.told(firedHere[i]!, seedrandom(`${hidden.name} ${way.name}`));
      const before = process.cpuUsage();
      const found = await fitTo({ clip: here, fired }, { cache });
      const { user, system } = process.cpuUsage(before);
      const took = `${Math.round((user + system) / 1e6)} s`;
      const settings = { version: 1 as const, ...found.settings };
      const { clips } = await replay({ clips: [there], camera: found.camera, settings }, { cache });
      const triggers = clips[0]!.triggers.map(({ time }) => time);
      const { f1 } = agreementOf(Float64Array.from(firedThere[i]!), triggers, { most: WITHIN });
      const { analysis, reference, area } = found.camera;
      const as = told({
        ...hidden,
        ...analysis,
        reference,
        whileBusy: reference.whileBusy,
        area,
        ...found.settings,
      });
      const last = found.heldOut === null ? '-' : found.heldOut.toFixed(2);
      const figures = [fired.length, found.agreement.f1.toFixed(2), last, f1.toFixed(3)];
      const alike = found.toldApart ? '1, told apart' : found.equallyGood.length;
      const rest = [found.tells === 'enough' ? alike : found.tells, took, as];
      console.log(`| ${[`${hidden.name} (${told(hidden)})`, way.name, ...figures, ...rest].join(' | ')} |`);
    }
  }
  if (!FOLDER) rmSync(folder, { recursive: true });
});

function only(all: readonly Hidden[]): Hidden[] {
  const some = all.filter(({ name }) => !ONLY || name.includes(ONLY));
  if (some.length > 0 || !ONLY) return some;
  const names = all.map(({ name }) => `'${name}'`).join(', ');
  throw new Error(
    `FIT_ONLY: expected part of the name of a camera, found '${ONLY}'; give part of one of these: ${names}`,
  );
}

/** So many are drawn, so many judged: of those that fire neither seldom nor without end, on both films. */
const DRAWN_OF = 18;
const JUDGED = 8;
const [FEWEST, MOST] = [15, 60];

function firing(drawn: readonly Hidden[]): Hidden[] {
  const fires = [film, other].map((plan) => firedAt(plan, drawn).map(({ length }) => length));
  return drawn
    .filter((_, i) => fires.every((counts) => counts[i]! >= FEWEST && counts[i]! <= MOST))
    .slice(0, JUDGED);
}

function told({ width, smooth, reference, whileBusy, area, ...values }: Hidden): string {
  const back = reference.kind === 'previous' ? reference.lag : `${reference.seconds} s`;
  const busy = whileBusy === undefined || whileBusy === 'continues' ? '' : ` ${whileBusy}`;
  const { threshold, minimumArea, persistence, cooldown } = values;
  return `${width} wide, smooth ${smooth}, ${reference.kind} ${back}${busy}, ${area}, ${threshold}/${minimumArea}/${persistence}/${cooldown}`;
}
