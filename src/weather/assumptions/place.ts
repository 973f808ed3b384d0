import { table } from './assumption.js';

/** What simulated rain assumes of the lens and of where the camera hangs, where camera.json and clip.json do not say. */
export const placeAssumptions = table({
  'field of view': {
    weather: 'rain',
    what: 'how wide the lens sees',
    figure: 62.2,
    unit: 'degrees from side to side',
    source: "a board maker's documentation, of a small fixed lens",
    measure: "Write it into camera.json from the lens's data sheet: lens.hfov.",
    most: 150,
  },
  'subject distance': {
    weather: 'rain',
    what: 'how far off animals come',
    figure: 2,
    unit: 'm',
    source: 'assumed',
    measure: 'Measure it, and write it into clip.json: scene.subject.',
  },
  'foliage distance': {
    weather: 'rain',
    what: 'how far off the foliage is',
    figure: 2.5,
    unit: 'm',
    source: 'assumed',
    measure: 'Measure it, and write it into clip.json: scene.foliage.',
  },
  'camera height': {
    weather: 'rain',
    what: 'how high the camera hangs',
    figure: 1,
    unit: 'm above ground',
    source: 'assumed',
    measure: 'Measure it, and write it into clip.json: scene.height.',
  },
});
