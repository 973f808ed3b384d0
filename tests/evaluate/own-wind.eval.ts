import { it } from 'vitest';
import { luminance } from '../../src/engine/luminance.js';
import { estimateWind } from '../../src/weather/estimate.js';
import { foliageFrom } from '../../src/weather/foliage/foliage.js';
import { MEASURED_WIDTH, MotionMeter } from '../../src/weather/foliage/motion.js';
import { createYard } from './yards/yard.js';

const SIZE = { width: MEASURED_WIDTH, height: 60 };
const SECONDS = 12;
const WINDS = [1.5, 3, 4, 5, 6];
const { PERCHMARK_FAMILY: family = 'own-wind', PERCHMARK_YARDS: yards = '24' } = process.env;

/** How often the wind that a clip's foliage tells holds the true one, in yards drawn by other rules (yards/), foliage outlined. */
it('the wind told by foliage against the wind drawn', () => {
  console.log(
    `\nfamily ${family}, ${yards} yards\n\n| drawn, Beaufort | told | within the range | told less the drawn: all |`,
  );
  console.log('|---|---|---|---|');
  for (const wind of WINDS) {
    const off: number[] = [];
    let [told, held] = [0, 0];
    for (let n = 0; n < Number(yards); n++) {
      const yard = createYard(`${family}-${n}`, { seconds: SECONDS });
      const { width, height } = yard.view;
      const meter = new MotionMeter(
        SIZE.width,
        SIZE.height,
        foliageFrom(yard.foliage, SIZE.width, SIZE.height),
      );
      for (const y of yard.draw({ wind, rain: 0, light: yard.daylight })) {
        meter.see(luminance(y, 1, width, height, SIZE.width, SIZE.height));
      }
      const estimate = estimateWind(meter.measure(), yard.rate, true);
      if (estimate.kind !== 'estimated') continue;
      told++;
      if (estimate.low <= wind && wind <= estimate.high) held++;
      off.push(Math.round(10 * (estimate.beaufort - wind)) / 10);
    }
    console.log(`| ${wind} | ${told} of ${yards} | ${held} | ${off.sort((a, b) => a - b).join(' ')} |`);
  }
});
