import { table } from './assumption.js';

/** What simulated low light assumes. */
export const lightAssumptions = table({
  aperture: {
    weather: 'low light',
    also: 'rain',
    what: 'the f-number of the lens',
    figure: 2.8,
    unit: '',
    source: 'assumed',
    measure: 'Read it off the lens or its data sheet.',
  },
  'full well': {
    weather: 'low light',
    what: 'the full well of the sensor',
    figure: 4300,
    unit: 'electrons',
    source: "a board maker's documentation, of 1.4 um pixels",
    measure: 'Record lossless stills of something that stands still, in the light of this clip.',
  },
  'read noise': {
    weather: 'low light',
    what: 'the read noise of the sensor',
    figure: 8,
    unit: 'electrons',
    source: 'assumed',
    measure: 'Record lossless stills of something that stands still, in the light of this clip.',
  },
  'longest exposure': {
    weather: 'low light',
    what: 'the longest exposure',
    figure: 1 / 30,
    unit: 'seconds',
    source: 'assumed',
    measure: "Write it into camera.json from the camera's settings: exposure.longest.",
  },
  'most gain': {
    weather: 'low light',
    what: 'the most gain',
    figure: 8,
    unit: 'times that of full light',
    source: 'assumed',
    measure: "Write it into camera.json from the camera's settings: exposure.mostGain.",
  },
});
