import { describe, expect, it } from 'vitest';
import { explainWeather } from '../../src/words/explain-weather.js';
import { tuned } from '../report/example.js';

const text = (rest: object = {}) => explainWeather({ ...tuned, ...rest }).join('\n');

describe('weather in words', () => {
  it('says which one group to leave in place, and that changing is too little to be worth it', () => {
    expect(text()).toMatch(/To leave one group in place for all of it: sensitivity/);
    expect(text()).toMatch(/would add 4 points in a hundred \(-2 to 10\).*Leave it alone/);
  });

  it('says when changing is worth it', () => {
    const weather = { ...tuned.weather, changing: { value: 0.3, low: 0.1, high: 0.5 }, worthIt: true };
    expect(text({ weather })).toMatch(/30 points in a hundred \(10 to 50\).*worth it\./);
  });

  it('marks what is simulated, on what, and that few visits are a hint', () => {
    expect(text()).toMatch(/Simulated, not recorded: wind/);
    expect(text()).toMatch(
      /Put onto a from 0:00 to 1:30, with 3 visits, too few to rest a choice on.*Assumed: how far branches sway/,
    );
  });

  it('says when advice for wind rests on the assumed sway', () => {
    expect(text()).toMatch(
      /sway twice as far as assumed, the advice for wind would be another: sensitivity 4/,
    );
  });

  it('is silent with one kind of weather', () => {
    expect(text({ weather: null })).toBe('');
  });
});
