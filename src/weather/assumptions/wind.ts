import { table } from './assumption.js';

/** What simulated wind assumes. */
export const windAssumptions = table({
  sway: {
    weather: 'wind',
    what: 'how far branches go',
    figure: 0.3,
    unit: 'of their length, at the tip, in a steady 6 m/s',
    source: 'assumed',
    measure: 'Record a clip in wind at this site.',
  },
});
