import { describe, expect, it } from 'vitest';
import {
  assumptionsOf,
  explainSimulated,
  explainWeather,
  fewSimulatedText,
} from '../../src/words/explain-weather.js';
import { tuned } from '../report/example.js';

const text = (rest: object = {}) => explainWeather({ ...tuned, ...rest }).join('\n');
const simulated = (rest: object = {}) => explainSimulated({ ...tuned, ...rest }).join('\n');

describe('weather in words', () => {
  it('says which one group to leave in place, and that changing is too little to be worth it', () => {
    const one = { ...tuned.weather?.one, controls: { sensitivity: 2 } };
    expect(text({ weather: { ...tuned.weather, one } })).toMatch(
      /To leave one group in place for all recorded weather: sensitivity 2\./,
    );
    expect(text()).toMatch(
      /would add 4 \(2 lost to 10 gained\), points in a hundred of the visits caught;.*Leave it alone/,
    );
  });

  it('does not say again what is recommended', () => {
    expect(text()).not.toMatch(/To leave one group in place/);
  });

  it('calls a loss a loss', () => {
    const losing = (value: number, low: number, high: number) =>
      text({ weather: { ...tuned.weather, changing: { value, low, high }, worthIt: false } });
    expect(losing(-0.19, -0.43, 0.06)).toMatch(/would lose 19 \(43 lost to 6 gained\)/);
    expect(losing(-0.19, -0.43, -0.06)).toMatch(/would lose 19 \(43 to 6\)/);
    expect(losing(-0.001, -0.1, 0.1)).toMatch(/would add 0 \(10 lost to 10 gained\)/);
  });

  const fared = (strength: number, recall: number, falsePerHour: number) => ({
    byCondition: [
      {
        condition: 'wind',
        clips: ['a'],
        source: 'simulated',
        choice: tuned.recommended,
        strengths: [{ strength, recall, falsePerHour }],
      },
    ],
  });

  it('says where it fires as often as its cooldown lets it', () => {
    expect(simulated(fared(6, 0.7, 355))).toMatch(
      /Beaufort 6: it fires as often as its cooldown lets it \(about 360 an hour at 10 s\)/,
    );
    expect(simulated(fared(6, 0.7, 200))).not.toMatch(/as its cooldown lets it/);
  });

  it('says where no false triggers come of blindness, which low light is not', () => {
    expect(simulated(fared(6, 0.2, 0))).toMatch(/Beaufort 6: no false triggers.*blinded/);
    expect(simulated(fared(6, 0.7, 0))).not.toMatch(/blinded/);
    expect(simulated(fared(6, 0.2, 1))).not.toMatch(/blinded/);
    const [wind] = fared(20, 0, 0).byCondition;
    expect(simulated({ byCondition: [{ ...wind, condition: 'low light' }] })).not.toMatch(/blinded/);
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
    expect(fewSimulatedText([tuned])).toBeNull();
    expect(fewSimulatedText([tuned, { byCondition: few }])).toMatch(/too few visits to rest them on/);
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
