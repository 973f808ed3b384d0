import type { Camera } from '../../../src/camera/description.js';
import type { Clip } from '../../../src/clip/open.js';
import { type SetupOptions, setupFor } from '../../../src/measure/weather/setup-for.js';
import { type MeasuredSway, measureSway } from '../../../src/measure/weather/two-clips.js';
import { keyOf } from '../../../src/store/key.js';
import type { Conditions, Setup } from '../../../src/weather/setup.js';
import { createWeather } from '../../../src/weather/weather.js';
import type { Yard } from '../yards/yard.js';
import { analysed, clipOf, inFolder } from './drawn.js';
import { type Evidence, EvidenceTaker } from './evidence.js';
import { keep, sourceKey } from './keep.js';
import { calmOf, type Row, siteWind } from './rows.js';

const sources = sourceKey(
  'tests/evaluate/yards',
  'tests/evaluate/yard-clip.ts',
  'tests/evaluate/transfer/rows.ts',
  'tests/evaluate/transfer/simulated.ts',
  'src/engine',
  'src/clip',
  'src/measure',
  'src/weather',
);

/** Evidence of a row's weather put onto the calm day, or in a line why there is none. */
export type Simulated = { evidence: Evidence; assumed: readonly string[] } | { refused: string };

/** Every row's weather put onto the calm clip of a yard, in one reading of it. */
export function simulatedRows(
  yard: Yard,
  camera: Camera,
  rows: readonly Row[],
  outlined: boolean,
): Promise<Record<string, Simulated>> {
  const key = keyOf(sources, yard.seed, yard.seconds, yard.rate, camera, rows, outlined);
  return keep(`simulated-${yard.seed}`, key, () =>
    inFolder(async (folder) => {
      const calm = await clipOf(yard, calmOf(yard), folder, outlined);
      const sways = await swaysOf(yard, calm, camera, rows, folder, outlined);
      const out: Record<string, Simulated> = {};
      const going: { weather: ReturnType<typeof createWeather>; taker: EvidenceTaker }[] = [];
      for (const row of rows) {
        const measured = sways.get(row.name);
        if (typeof measured === 'string') {
          out[row.name] = { refused: measured };
          continue;
        }
        const sway = row.sway === 'assumed' ? { motion: null } : measured;
        const weather = createWeather(await setupOf(calm, camera, row.to, yard.seed, sway));
        const taker = new EvidenceTaker(camera);
        going.push({ weather, taker });
        out[row.name] = { evidence: taker.evidence, assumed: weather.assumed };
      }
      let k = 0;
      for await (const y of analysed(calm, camera)) {
        const time = k++ / yard.rate;
        for (const { weather, taker } of going) taker.take(weather.apply(y, time), time);
      }
      return out;
    }),
  );
}

async function setupOf(
  clip: Clip,
  camera: Camera,
  to: Conditions,
  seed: string,
  sway: Pick<SetupOptions, 'motion' | 'foliage'> | undefined,
): Promise<Setup> {
  const { width, height } = camera.analysis;
  return (await setupFor(clip, camera, to, { width, height, seed, ...sway })).setup;
}

/** For each row whose sway is measured on two clips of the site: what was measured, or why there is none. */
async function swaysOf(
  yard: Yard,
  calm: Clip,
  camera: Camera,
  rows: readonly Row[],
  folder: string,
  outlined: boolean,
): Promise<Map<string, MeasuredSway | string>> {
  const sways = new Map<string, MeasuredSway | string>();
  const measured = new Map<number, MeasuredSway | string>();
  for (const { name, sway, to } of rows) {
    if (sway !== 'site' || to.wind === undefined) continue;
    const wind = siteWind(to.wind);
    if (!measured.has(wind)) {
      const windy = await clipOf(yard, { ...calmOf(yard), wind }, folder, outlined);
      measured.set(
        wind,
        await measureSway(calm, windy, camera, yard.seed).catch(({ message }: Error) =>
          message.replaceAll(`${folder}/`, ''),
        ),
      );
    }
    sways.set(name, measured.get(wind)!);
  }
  return sways;
}
