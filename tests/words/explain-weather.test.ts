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
      /would catch 4 visits in a hundred more \(90 %: 2 less to 10 more\); tried on .*Leave it alone/,
    );
  });

  it('does not say again what is recommended', () => {
    expect(text()).not.toMatch(/To leave one group in place/);
  });

  it('calls a loss a loss', () => {
    const losing = (value: number, low: number, high: number) =>
      text({ weather: { ...tuned.weather, changing: { value, low, high }, worthIt: false } });
    expect(losing(-0.19, -0.43, 0.06)).toMatch(
      /would catch 19 visits in a hundred less \(90 %: 43 less to 6 more\)/,
    );
    expect(losing(-0.19, -0.43, -0.06)).toMatch(
      /would catch 19 visits in a hundred less \(90 %: 43 less to 6 less\)/,
    );
    expect(losing(-0.001, -0.1, 0.1)).toMatch(
      /would catch 0 visits in a hundred more \(90 %: 10 less to 10 more\)/,
    );
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

  it('has nothing to change where the same dials are best in each kind, and weighs nothing', () => {
    const kind = (condition: string, controls = {}) => ({
      condition,
      clips: ['a'],
      source: 'recorded',
      choice: { ...tuned.recommended, controls: { ...tuned.recommended.controls, ...controls } },
    });
    const same = [kind('calm'), kind('low light')];
    expect(text({ byCondition: same })).toMatch(
      /The same dials are best in each of them: .*nothing to change/,
    );
    expect(text({ byCondition: same })).not.toMatch(/in a hundred/);
    expect(text({ byCondition: [kind('calm'), kind('rain', { cooldown: 2 })] })).toMatch(/in a hundred/);
  });

  describe('where more weather gives fewer false triggers', () => {
    const counted = (n: number) => ({ score: { ...tuned.recommended.score, falseTriggers: n } });
    const [wind] = fared(6, 0.7, 72).byCondition;
    const told = (unheldPerHour: number | null, falsePerHour = 72, condition = 'wind') =>
      simulated({
        byCondition: [
          {
            ...wind,
            condition,
            strengths: [
              { strength: 4, recall: 0.7, falsePerHour: 504, unheldPerHour: 510, ...counted(14) },
              { strength: 6, recall: 0.7, falsePerHour, unheldPerHour, ...counted(2) },
            ],
          },
        ],
      });

    it('says that more of the picture changes than mostChanged lets through, where all of it would fire', () => {
      expect(told(700)).toMatch(
        /Beaufort 6: fewer false triggers than at Beaufort 4, for more of the picture changes than mostChanged 76800 lets through \(with that dial all the way up 700 an hour\)\./,
      );
    });

    it('says by how few it is where that is not why, and nothing where there are more', () => {
      expect(told(80)).toMatch(/than at Beaufort 4, 2 counted against 14 on the sample: it may be chance\./);
      expect(told(600, 600)).not.toMatch(/fewer false triggers/);
      expect(told(700, 72, 'low light')).not.toMatch(/fewer false triggers/);
    });
  });

  it('says when changing is worth it', () => {
    const weather = { ...tuned.weather, changing: { value: 0.3, low: 0.1, high: 0.5 }, worthIt: true };
    expect(text({ weather })).toMatch(
      /would catch 30 visits in a hundred more \(90 %: 10 more to 50 more\);.*worth it\./,
    );
  });

  it('says of simulated weather what it was put onto, and when that is too few visits to rest other dials on', () => {
    const few = tuned.byCondition.map((group) =>
      group.source === 'simulated' ? { ...group, choice: null } : group,
    );
    expect(simulated()).toMatch(/Simulated on a from 0:00 to 1:30, with 3 visits\./);
    expect(fewSimulatedText([tuned])).toBeNull();
    const [told, little] = (['hint', 'too little'] as const).map((tells) => ({
      byCondition: few,
      simulations: tuned.simulations,
      tells,
    }));
    expect(fewSimulatedText([tuned, told!])).toMatch(
      /too few visits to rest them on: it is told what the recommended settings would do in it\. Record/,
    );
    expect(fewSimulatedText([little!])).toMatch(/it is told what choice A would do in it\. Record/);
    expect(fewSimulatedText([told!, little!])).toMatch(/or choice A where there was too little to recommend/);
    expect(simulated({ byCondition: [] })).toBe('');
  });

  it('says that simulated wind was not recorded, and does not let wind and rain at once be taken for tried', () => {
    const [wind] = tuned.byCondition.filter(
      ({ condition, source }) => condition === 'wind' && source === 'simulated',
    );
    const rain = { ...wind!, condition: 'rain' as const };
    const told = (byCondition: object[]) => simulated({ byCondition });
    expect(told([wind!])).toMatch(/Simulated wind is such as no clip here .* record such wind/);
    expect(told([rain])).not.toMatch(/record such wind/);
    expect(told([{ ...wind!, strengths: [] }])).not.toMatch(/record such wind/);
    expect(told([wind!, rain])).toMatch(/Wind and rain at once were not tried\./);
    expect(told([wind!])).not.toMatch(/at once/);
  });

  const [doubt] = tuned.doubts;
  const doubts = (...all: object[]) => simulated({ doubts: all.map((rest) => ({ ...doubt, ...rest })) });

  it('says what to measure first where advice hangs on an assumption, else that it holds', () => {
    expect(doubts({})).toMatch(
      /Measure this first: how far branches go\. At twice what is assumed \(0\.3 of their length\) the advice for wind would be another: the settings advised for wind would do this, in one drawing of chance: 10 of 20 visits caught instead of 11, 90 false an hour instead of 31\. Record a clip in wind at this site\./,
    );
    expect(doubts({}, { assumption: 'leaf impedance' })).toMatch(/So it is with 1 assumption more\./);
    const idle = { flips: false, recall: 0.55, falsePerHour: 31 };
    expect(doubts({ flips: false })).toMatch(
      /The advice for wind holds with what is assumed of how far branches go halved or doubled\. What it does hangs most on/,
    );
    expect(doubts(idle, { ...idle, assumption: 'leaf impedance' })).toMatch(
      /does not hang on any of the 2 things assumed of it, by 20 visits/,
    );
  });

  it('tells a change of advice that a second drawing of chance does not show from one that it does', () => {
    expect(doubts({ again: true })).toMatch(
      /Measure this first: how far branches go\..*would be another, in two drawings of chance: the settings advised for wind would do this, in one of them: 10 of 20/,
    );
    const chance = doubts({ again: false });
    expect(chance).toMatch(
      /hangs on how far branches go cannot be told from chance: at twice what is assumed \(0\.3 of their length\) it would be another in one drawing of chance, and not in a second\. In the first the settings advised for wind would do this: 10 of 20 visits caught/,
    );
    expect(chance).not.toMatch(/Measure this first|The advice for wind holds/);
    const shelter = { assumption: 'shelter', what: 'how much of the open wind reaches the site' };
    expect(doubts({ again: false, lost: 9 }, { ...shelter, again: true })).toMatch(
      /Measure this first: how much of the open wind/,
    );
  });

  it('names first what loses most by the goal, then what fires most', () => {
    const shelter = { assumption: 'shelter', what: 'how much of the open wind reaches the site' };
    expect(doubts({ falsePerHour: 32 }, { ...shelter, falsePerHour: 900 })).toMatch(
      /Measure this first: how much of the open wind/,
    );
    expect(doubts({ falsePerHour: 900 }, { ...shelter, falsePerHour: 32, lost: 6 })).toMatch(
      /Measure this first: how much of the open wind/,
    );
    expect(doubts({ flips: null }, { ...shelter, flips: null, recall: 0, lost: 11 })).toMatch(
      /hangs most on how much of the open wind/,
    );
  });

  it('says with too few visits what the outcome hangs on most, visits lost as well', () => {
    const asAssumed = { recall: 2 / 3, falsePerHour: 31 };
    expect(doubts({ flips: null, recall: 0, falsePerHour: 0, visits: 3, asAssumed })).toMatch(
      /hangs most on how far branches go: at twice what is assumed, 0 of 3 visits caught instead of 2, 0 false an hour instead of 31\. Record/,
    );
    expect(doubts({ flips: null, recall: 0.55, falsePerHour: 31 })).toMatch(
      /does not hang on what is assumed of/,
    );
  });

  // Cooldown of 10 s: no more than 360 an hour.
  it('does not call a ceiling set by the cooldown robust', () => {
    const capped = { recall: 0.55, falsePerHour: 358, asAssumed: { recall: 0.55, falsePerHour: 358 } };
    for (const flips of [null, false]) {
      const said = doubts({ ...capped, flips });
      expect(said).toMatch(
        /cannot be told: with each halved and doubled they fire as often as their cooldown/,
      );
      expect(said).not.toMatch(/does not hang|holds/);
    }
    const blind = doubts({ ...capped, flips: false, recall: 0.3 });
    expect(blind).toMatch(
      /6 of 20 visits caught instead of 11.*cannot be told, because as assumed they fire/,
    );
    expect(blind).not.toMatch(/The advice for wind holds/);
  });

  it('tells how far a figure really goes where it can go no further', () => {
    expect(doubts({ taken: 1.25 })).toMatch(/At 1\.25 times what is assumed/);
  });

  it('says whose figures are told', () => {
    expect(simulated()).toMatch(/The figures of simulated weather are of the settings advised for wind\./);
    const few = tuned.byCondition.map((group) =>
      group.source === 'simulated' ? { ...group, choice: null } : group,
    );
    expect(simulated({ byCondition: few })).toMatch(
      /The figures of simulated weather are of the recommended settings\./,
    );
    expect(simulated({ byCondition: few, tells: 'too little', doubts: [{ ...doubt, flips: null }] })).toMatch(
      /The figures of simulated weather are of choice A\.[\s\S]*does to choice A hangs most/,
    );
  });

  it('says which part of the rain fires the camera, and only where one does', () => {
    expect(simulated()).toMatch(
      /rain of 8 mm\/h, of 40 false an hour \(2 without rain\), what fires it most is near drops \(30 by itself\), and nothing else much\. A deeper hood keeps .*: without it 12 false an hour, simulated\./,
    );
    const rain = (rest: object) => simulated({ rain: { ...tuned.rain, ...rest } });
    const fired = (without: number) => rain({ parts: [{ part: 'drops on the cover', alone: 30, without }] });
    expect(fired(12)).toMatch(/A hood over the cover keeps it dry.*: without it 12 false an hour/);
    expect(fired(39)).not.toMatch(/hood/);
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

describe('wind that nothing is known to be moved by', () => {
  const wind = {
    condition: 'wind' as const,
    clips: ['a'],
    source: 'simulated' as const,
    choice: null,
    strengths: [],
  };
  const still = {
    ...tuned,
    simulations: tuned.simulations.map((simulation) => ({ ...simulation, motionless: true })),
  };

  it('is not said to have had too few visits, and has no figures to say whose they are', () => {
    expect(fewSimulatedText([{ ...still, byCondition: [wind] }])).toBeNull();
    const text = explainSimulated({ ...still, byCondition: [wind] }).join('\n');
    expect(text).toMatch(/^No wind was put onto a, because .* outline it/);
  });

  it('is not what a given clip simulates, which has no strengths either', () => {
    expect(fewSimulatedText([{ ...tuned, byCondition: [wind] }])).toMatch(/too few visits/);
  });
});
