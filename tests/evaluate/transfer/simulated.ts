import { Problem } from '../../../src/base/problem.js';
import type { Camera } from '../../../src/camera/description.js';
import type { Clip } from '../../../src/clip/open.js';
import { type SetupOptions, setupFor } from '../../../src/measure/weather/setup-for.js';
import { measureSway } from '../../../src/measure/weather/two-clips.js';
import { Cache } from '../../../src/store/cache.js';
import { keyOf } from '../../../src/store/key.js';
import { createWeather, type Weather } from '../../../src/weather/weather.js';
import type { Day, Yard } from '../yards/yard.js';
import { analysed, clipOf, inFolder } from './drawn.js';
import { type Evidence, EvidenceTaker } from './evidence.js';
import { keep, sourceKey } from './keep.js';
import { calmOf, DUSK, type Row, siteDay } from './rows.js';

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

/** Evidence of a row's weather put onto the calm day, or in a line why there is none; and what was assumed. */
export type Simulated = { evidence: Evidence; assumed: readonly string[] } | { refused: string };

/** Every row's weather put onto the calm clip of a yard, in one reading of it. */
export function simulatedRows(
  yard: Yard,
  camera: Camera,
  rows: readonly Row[],
  outlined: boolean,
): Promise<Record<string, Simulated>> {
  const windy = rows.flatMap(({ to }) => (to.wind === undefined ? [] : [siteDay(to.wind)]));
  const key = keyOf(sources, yard.seed, yard.seconds, yard.rate, camera, rows, windy, outlined);
  return keep(`simulated-${yard.seed}`, key, () =>
    inFolder(async (folder) => {
      const site = new Site(yard, camera, folder, outlined);
      const calm = await site.clip({});
      const { width, height } = camera.analysis;
      const out: Record<string, Simulated> = {};
      const going: { weather: Weather; taker: EvidenceTaker }[] = [];
      for (const row of rows) {
        try {
          const options = { width, height, seed: yard.seed, ...(await site.optionsOf(row)) };
          const weather = createWeather((await setupFor(calm, camera, row.to, options)).setup);
          const taker = new EvidenceTaker(camera);
          going.push({ weather, taker });
          out[row.name] = { evidence: taker.evidence, assumed: weather.assumed };
        } catch (error) {
          if (!(error instanceof Problem)) throw error;
          out[row.name] = { refused: error.message.replaceAll(`${folder}/`, '') };
        }
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

/** What the owner of a yard can give the program: the calm clip, windy ones, one at dusk. */
class Site {
  readonly #clips = new Map<string, Promise<Clip>>();
  readonly #sways = new Map<number, ReturnType<typeof measureSway>>();

  constructor(
    private readonly yard: Yard,
    private readonly camera: Camera,
    private readonly folder: string,
    private readonly outlined: boolean,
  ) {}

  /** A day that differs from the calm one. */
  clip(change: Partial<Day>): Promise<Clip> {
    const name = JSON.stringify(change);
    const clip =
      this.#clips.get(name) ??
      clipOf(this.yard, { ...calmOf(this.yard), ...change }, this.folder, this.outlined);
    this.#clips.set(name, clip);
    return clip;
  }

  /** What a row's weather is made with. @throws Problem where the program refuses to measure */
  async optionsOf({ how, to }: Row): Promise<Partial<SetupOptions>> {
    if (how === 'assumed') return { motion: null };
    if (how === 'measured at dusk') return { noiseFrom: await this.clip({ light: DUSK }) };
    if (how !== 'measured at the site' || to.wind === undefined) return {};
    const day = siteDay(to.wind);
    const measured =
      this.#sways.get(day.wind) ??
      measureSway(await this.clip({}), await this.clip(day), this.camera, this.yard.seed, Cache.inMemory());
    this.#sways.set(day.wind, measured);
    const { motion, foliage } = await measured;
    return { motion, foliage };
  }
}
