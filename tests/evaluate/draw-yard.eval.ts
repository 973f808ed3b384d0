import { it } from 'vitest';
import { writeYardClip } from './yard-clip.js';
import { createYard } from './yards/yard.js';

/**
 * Writes days in yards as clip folders, to look at or to try the program on:
 *
 *     YARDS="build-1 build-2" YARD_DAY="4 0 8000" YARD_DIR=/tmp/yards \
 *       npx vitest run --config tests/evaluate/vitest.config.ts draw-yard
 *
 * The day is its Beaufort number, mm/h and lux; left out, the yard's own calm day. YARD_SECONDS, YARD_BARE and
 * YARD_OUTLINED (1 or left out) do what they say.
 */
it('draws the yards that are asked for', { timeout: 3_600_000 }, async () => {
  const { YARDS = 'build-1', YARD_DAY, YARD_DIR = '/tmp/yards', YARD_SECONDS = '100' } = process.env;
  const bare = process.env.YARD_BARE === '1';
  const outlined = process.env.YARD_OUTLINED === '1';
  for (const seed of YARDS.split(' ')) {
    const yard = createYard(seed, { seconds: Number(YARD_SECONDS), bare });
    const [wind = yard.calm, rain = 0, light = yard.daylight] = YARD_DAY?.split(' ').map(Number) ?? [];
    const dir = `${YARD_DIR}/${seed}-wind${wind.toFixed(1)}-rain${rain}-light${light.toFixed(0)}`;
    await writeYardClip(yard, { wind, rain, light }, dir, { outlined });
    console.log(`${dir}: ${yard.plants.join(', ') || 'nothing grows'}; ${yard.form.kind}`);
  }
});
