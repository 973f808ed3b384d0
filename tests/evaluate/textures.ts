import { between, random } from '../../src/base/random.js';
import { cameraSchema } from '../../src/camera/description.js';
import { type Event, insect, shadow, something } from '../../src/lab/textures/events.js';
import { textureScene } from '../../src/lab/textures/scene.js';
import type { Labels } from '../../src/score/labels.js';
import type { Drawn } from './film.js';

/** Another camera than that of the gardens: smaller pictures, other dials. */
export const textureCamera = cameraSchema.parse({
  version: 1,
  name: 'texture camera',
  analysis: { width: 160, height: 120, rate: 5, smooth: 1 },
  reference: { kind: 'previous', lag: 1 },
  shutterLag: 0.4,
  burst: { photos: 2, interval: 0.8 },
  controls: {
    threshold: { sets: 'threshold', choices: [8, 11, 15, 20, 27, 36, 48, 64] },
    area: { sets: 'minimumArea', choices: [6, 12, 25, 50, 100, 200, 400] },
    frames: { sets: 'persistence', choices: [1, 2, 3] },
    pause: { sets: 'cooldown', choices: [2, 4, 8, 16, 32] },
  },
});

/**
 * A moving texture with visits: things with a skin of their own that come and go, while patches sway, and now and then an
 * insect or a shadow passes. Everything follows from the seed.
 */
export function textureDrawing(seed: string, seconds: number, visitsPerHour: number): Drawn {
  const { width, height, rate } = textureCamera.analysis;
  const frames = Math.round(seconds * rate);
  const r = random(seed, 'texture site');
  const scene = textureScene({ width, height, rate, frames, causes: ['wind'] }, seed);
  const events: Event[] = [];
  const every = (perHour: number, make: (from: number) => Event) => {
    for (let t = 0; ; ) {
      t += (-Math.log(1 - r()) * 3600) / perHour;
      if (t >= seconds) return;
      events.push(make(Math.floor(t * rate)));
    }
  };
  every(visitsPerHour, (from) => something(from, rate, width, height, r));
  const visits: Labels['visits'] = events.map(({ from, to }) => ({
    start: from / rate,
    end: Math.min(seconds, (to + 1) / rate),
    type: 'animal',
  }));
  every(between(r, 2, 40), (from) => insect(from, width, height, r));
  every(between(r, 2, 30), (from) => shadow(from, rate, width, height, r));
  return {
    times: Float64Array.from({ length: frames }, (_, k) => k / rate),
    seconds,
    labels: { version: 1, visits: visits.sort((a, b) => a.start - b.start) },
    *from(first) {
      for (let k = first; k < frames; k++) {
        const grey = Float32Array.from(scene.draw(k));
        for (const event of events) if (k >= event.from && k <= event.to) event.draw(grey, width, height, k);
        yield Uint8Array.from(grey, (v) => Math.min(255, Math.max(0, Math.round(v))));
      }
    },
  };
}
