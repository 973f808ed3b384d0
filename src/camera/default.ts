import { type Camera, cameraSchema } from './description.js';

/** The camera that is meant when none is named: a small board with the usual dials of a home-built trigger. */
export const defaultCamera: Camera = cameraSchema.parse({
  version: 1,
  name: 'default camera',
  analysis: { width: 320, height: 240, rate: 5, smooth: 1 },
  reference: { kind: 'previous', lag: 1 },
  shutterLag: 0.5,
  burst: { photos: 2, interval: 1 },
  controls: {
    sensitivity: { sets: 'threshold', from: 1, to: 10, step: 1, gives: [80, 8] },
    minimumArea: { sets: 'minimumArea', choices: [25, 50, 100, 200, 400, 800] },
    mostChanged: { sets: 'mostChanged', choices: [5000, 20_000, 76_800] },
    persistence: { sets: 'persistence', choices: [1, 2, 3] },
    cooldown: { sets: 'cooldown', choices: [2, 5, 10, 30, 60] },
  },
});
