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

  const [doubt] = tuned.doubts;
  const doubts = (...all: object[]) => simulated({ doubts: all.map((rest) => ({ ...doubt, ...rest })) });

  it('says what to measure first where advice hangs on an assumption, else that it holds', () => {
    expect(doubts({})).toMatch(
      /Measure this first: how far branches go\. At twice what is assumed \(0\.3 of their length\) the advice for wind would be another\. Record a clip in wind at this site\./,
    );
    expect(doubts({}, { assumption: 'leaf mass' })).toMatch(/So it is with 1 assumption more\./);
    expect(doubts({ flips: false })).toMatch(
      /The advice for wind holds with what is assumed of how far branches go halved or doubled\./,
    );
    expect(doubts({ flips: false }, { flips: false, assumption: 'leaf mass' })).toMatch(
      /The advice for wind holds with any of the 2 things assumed of it halved or doubled\./,
    );
  });

  it('says with too few visits only what the false triggers hang on most', () => {
    expect(doubts({ flips: null })).toMatch(
      /hangs most on how far branches go: at twice what is assumed, 90 false an hour instead of 31\. Record/,
    );
    expect(doubts({ flips: null, falsePerHour: 31 })).toMatch(/does not hang on what is assumed of/);
  });

  it('says which part of the rain fires the camera, and only where one does', () => {
    expect(simulated()).toMatch(
      /rain of 8 mm\/h, of 40 false an hour \(2 without rain\), what fires it most is near drops \(30 by itself\), and nothing else\./,
    );
    const rain = (rest: object) => simulated({ rain: { ...tuned.rain, ...rest } });
    expect(rain({ falsePerHour: 2 })).toMatch(/fire falsely no more than without it/);
    expect(rain({ parts: [{ part: 'haze', alone: 2, without: 40 }] })).toMatch(/its parts do so together/);
    expect(simulated({ rain: null })).not.toMatch(/mm\/h, of/);
  });

  it('names each assumption once, however many sites rest on it', () => {
    expect(assumptionsOf([tuned, tuned])).toEqual(['how far branches sway']);
  });

  it('is silent with one kind of weather', () => {
    expect(text({ weather: null })).toBe('');
  });
});
