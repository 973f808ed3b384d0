import { table } from './assumption.js';

/** What simulated rain assumes. */
export const rainAssumptions = table({
  'leaves struck': {
    weather: 'rain',
    what: 'the share of drops above a millimetre that turn the leaf they strike',
    figure: 0.5,
    unit: '',
    source: 'assumed',
    measure: 'Record a clip in rain at this site.',
    most: 1,
  },
});
