import { type Clip, luminanceFrames } from '../../clip/open.js';
import type { Setup } from '../../weather/setup.js';
import { createWeather, type Weather } from '../../weather/weather.js';

/**
 * A clip's frames in the wanted conditions, as luminance at the setup's size; the same array every time.
 * @param weather made from the setup, and not yet used
 */
export async function* simulatedFrames(
  clip: Clip,
  indices: ArrayLike<number>,
  setup: Setup,
  weather: Weather = createWeather(setup),
  signal?: AbortSignal,
): AsyncGenerator<Uint8Array> {
  let k = 0;
  for await (const y of luminanceFrames(clip, indices, setup, signal)) {
    yield weather.apply(y, clip.times[indices[k++]!]!);
  }
}
