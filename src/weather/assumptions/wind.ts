import { table } from './assumption.js';

/** What simulated wind assumes. */
export const windAssumptions = table({
  sway: {
    weather: 'wind',
    what: 'how far branches go',
    figure: 0.55,
    unit: 'm2 of drag for each kg of branch and leaf (0.2 to 1.5)',
    source: 'assumed from the weight and area of leafy shoots',
    measure: 'Record a clip in wind at this site.',
  },
  'giving way': {
    weather: 'wind',
    what: 'how much branches give way to strong wind',
    figure: 1,
    unit: 'powers of the speed less than the square (0.4 to 1.2)',
    source:
      'Rudnicki et al. 2004 and Vollsinger et al. 2005, from memory: drag on crowns in a wind tunnel grew about in proportion to the wind; the range is that of Vogel 1989, from memory',
    measure: 'Record clips in medium and in strong wind at this site.',
    most: 1.2,
  },
  'speed of giving way': {
    weather: 'wind',
    what: 'the wind from which leaves and twigs give way',
    figure: 2,
    unit: 'm/s at the branch (1 to 4)',
    source:
      'Rudnicki et al. 2004 and Vollsinger et al. 2005, from memory: drag on crowns in a wind tunnel grew about in proportion to the wind from the least that was tried, 4 m/s, where by this four fifths of giving way have set in',
    measure: 'Record clips in medium and in strong wind at this site.',
  },
  flutter: {
    weather: 'wind',
    what: 'how much leaves flutter',
    figure: 0.12,
    unit: 'of their brightness, in full flutter',
    source: 'assumed',
    measure: 'Record a clip in light wind at this site.',
  },
  shelter: {
    weather: 'wind',
    what: 'how much of the open wind reaches the site',
    figure: 0.8,
    unit: '',
    source: 'assumed',
    measure: 'Hold an anemometer at the site against the forecast.',
    most: 1,
  },
});
