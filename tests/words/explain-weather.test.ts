import { describe, expect, it } from 'vitest';
import { assumptionsOf, explainSimulated, explainWeather } from '../../src/words/explain-weather.js';
import { tuned } from '../report/example.js';

const text = (rest: object = {}) => explainWeather({ ...tuned, ...rest }).join('\n');
const simulated = (rest: object = {}) => explainSimulated({ ...tuned, ...rest }).join('\n');

describe('weather in words', () => {
  it('says which one group to leave in place, and that changing is too little to be worth it', () => {
    expect(text()).toMatch(/To leave one group in place for all recorded weather: sensitivity/);
    expect(text()).toMatch(
      /would add 4 \(-2 to 10\), points in a hundred of the visits caught;.*Leave it alone/,
    );
  });

  it('says when changing is worth it', () => {
    const weather = { ...tuned.weather, changing: { value: 0.3, low: 0.1, high: 0.5 }, worthIt: true };
    expect(text({ weather })).toMatch(/30 \(10 to 50\), points in a hundred.*worth it\./);
  });

  it('says of simulated weather what it was put onto, and when that is too few visits to rest other dials on', () => {
    const few = tuned.byCondition.map((group) =>
      group.source === 'simulated' ? { ...group, choice: null } : group,
    );
    expect(simulated()).toMatch(/Simulated on a from 0:00 to 1:30, with 3 visits\./);
    expect(simulated()).not.toMatch(/Too few visits/);
    expect(simulated({ byCondition: few })).toMatch(/Too few visits to rest other dials on/);
    expect(simulated({ byCondition: [] })).toBe('');
  });

  it('says when advice for wind rests on the assumed sway', () => {
    expect(simulated()).toMatch(
      /sway twice as far as assumed, the advice for wind would be another: sensitivity 4/,
    );
  });

  it('names each assumption once, however many sites rest on it', () => {
    expect(assumptionsOf([tuned, tuned])).toEqual(['how far branches sway']);
  });

  it('is silent with one kind of weather', () => {
    expect(text({ weather: null })).toBe('');
  });
});
