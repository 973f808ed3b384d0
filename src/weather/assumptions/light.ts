import { table } from './assumption.js';

/** What simulated low light assumes. */
export const lightAssumptions = table({
  aperture: {
    weather: 'low light',
    what: 'the f-number of the lens',
    figure: 2.8,
    unit: '',
    source: 'assumed',
    measure: 'Read it off the lens or its data sheet.',
  },
});
