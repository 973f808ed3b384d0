import { describe, expect, it } from 'vitest';
import type { SiteResult } from '../../src/jobs/tune.js';
import { noCounts, scoreOf } from '../../src/score/score.js';
import type { Choice } from '../../src/tune/site-result.js';
import { explain } from '../../src/words/explain.js';
import { now } from '../report/example.js';

const score = (caught: number, falseTriggers: number, visits = 20) =>
  scoreOf({ ...noCounts, visits, caught, trueTriggers: caught, falseTriggers, watchedSeconds: 3600 });
const choice = (sensitivity: number, caught: number, falseTriggers: number): Choice => ({
  settings: { version: 1, threshold: 24, minimumArea: 50, mostChanged: 76_800, persistence: 1, cooldown: 10 },
  controls: { sensitivity },
  score: score(caught, falseTriggers),
  unseen: { how: 'too little to tell', recall: null, falsePerHour: null, moreVisits: 12 },
});
const result = (rest: Partial<SiteResult> = {}): SiteResult => {
  const recommended = choice(5, 15, 4);
  return {
    site: null,
    clips: ['a'],
    now,
    photosPerTrigger: 1,
    ends: [],
    mask: null,
    doubts: [],
    rain: null,
    limit: null,
    searched: 10,
    allowance: {
      falsePerHour: 6,
      kept: true,
      hoursNeeded: 0.5,
      sure: null,
      hoursToBeSure: null,
      reached: null,
    },
    worth: null,
    tells: 'hint',
    best: recommended,
    recommended,
    byCondition: [],
    weather: null,
    simulations: [],
    notches: [
      { dial: 'sensitivity', position: 4, score: score(12, 1) },
      { dial: 'sensitivity', position: 6, score: score(16, 30) },
      { dial: 'persistence', position: 2, score: score(15, 4) },
    ],
    front: [
      {
        settings: recommended.settings,
        byLuck: null,
        byBouts: null,
        recall: 0.95,
        precision: 0.3,
        falsePerHour: 80,
      },
    ],
    ...rest,
  };
};
const text = (rest?: Partial<SiteResult>) => explain(result(rest)).join('\n');

describe('being sure of an allowance', () => {
  const sure = { falsePerHour: 6, kept: true, hoursNeeded: 0.5, sure: 0.9, hoursToBeSure: 2, reached: 0.819 };

  it('says where no recording of that length could show it, and how sure it is instead', () => {
    expect(text({ allowance: sure })).toMatch(
      /To be sure of it with a probability of 0.9 takes about 2 watched hours .*; here there are 1\. By this footage .* a probability of about 0\.81\./,
    );
  });

  it('says how sure it is also where the recording is long enough and no settings are as sure', () => {
    expect(text({ allowance: { ...sure, hoursToBeSure: 0.5 } })).toMatch(
      /No settings are shown to keep it with a probability of 0\.9: .* a probability of about 0\.81\./,
    );
  });

  it('has nothing to say where it is as sure as was asked for', () => {
    expect(text({ allowance: { ...sure, reached: 0.9 } })).not.toMatch(/with a probability/);
  });

  it('tells one number of hours that it takes, not two', () => {
    const said = text({ allowance: { ...sure, hoursNeeded: 3 } });
    expect(said).not.toMatch(/can be told only from/);
  });

  it('does not put down to luck what is passed over for being less sure', () => {
    const said = text({ best: choice(8, 20, 5), allowance: sure });
    expect(said).toMatch(/would catch 5 visits more .* less sure to keep to 6 an hour/);
    expect(said).not.toMatch(/more likely luck/);
  });
});

describe('the recommendation in words', () => {
  it('says what it catches and what it fires at', () => {
    expect(text()).toMatch(
      /catches 15 of 20 visits and fires falsely 4 times, 4 an hour; 6 an hour are allowed/,
    );
  });

  it('says when nothing keeps the allowance', () => {
    expect(
      text({
        allowance: {
          falsePerHour: 2,
          kept: false,
          hoursNeeded: 1.5,
          sure: null,
          hoursToBeSure: null,
          reached: null,
        },
      }),
    ).toMatch(/more than the 2 an hour allowed, and no group of settings keeps to it/);
  });

  it('says what it ignores against the most sensitive worth having', () => {
    expect(text()).toMatch(/catch 95 % of the visits fire falsely 80 times an hour; these leave out 95 %/);
  });

  it('names the dial that matters most with both notches, and those that hardly do', () => {
    expect(text()).toMatch(
      /matters most is sensitivity: at 4 it would catch 3 visits less and fire falsely 3 times less; at 6 it would catch 1 visit more and fire falsely 26 times more/,
    );
    expect(text()).toMatch(/One notch of persistence changes next to nothing/);
  });

  it('says so where a notch would do better on these very clips, for it speaks against what is recommended', () => {
    const notches = [
      { dial: 'sensitivity', position: 4, score: score(15, 2) },
      { dial: 'sensitivity', position: 6, score: score(16, 30) },
    ];
    expect(text({ notches })).toMatch(
      /On these clips alone 4 would do better; what is chosen is expected to hold/,
    );
    expect(text()).not.toMatch(/On these clips alone/);
  });

  it('says why the best on these clips is not what it recommends', () => {
    expect(text({ best: choice(7, 16, 4) })).toMatch(
      /sensitivity 7 would catch 1 visit more on these very clips/,
    );
    expect(text()).not.toMatch(/on these very clips/);
  });

  it('gives the prediction, or how many more visits to label', () => {
    expect(text()).toMatch(
      /too little to tell\. Label about 12 more visits, on other days if you can, for advice to rest on/,
    );
    const told = choice(5, 15, 4);
    told.unseen = {
      how: 'blocks of time',
      recall: { value: 0.7, low: 0.5, high: 0.9, n: 20 },
      falsePerHour: { value: 5, low: 1, high: 12, hours: 1 },
      moreVisits: 0,
    };
    expect(text({ recommended: told })).toMatch(
      /expect 50 % to 90 % of visits caught, and 1 to 12 false triggers an hour/,
    );
  });

  it('says what rests on few visits, and from when an allowance can be told', () => {
    expect(text()).toMatch(/each one more or less is 5 points in a hundred/);
    expect(
      text({
        allowance: {
          falsePerHour: 1,
          kept: true,
          hoursNeeded: 3,
          sure: null,
          hoursToBeSure: null,
          reached: null,
        },
      }),
    ).toMatch(/only from 3 watched hours on/);
    expect(
      text({
        allowance: {
          falsePerHour: 0,
          kept: true,
          hoursNeeded: null,
          sure: null,
          hoursToBeSure: null,
          reached: null,
        },
      }),
    ).toMatch(/can never be shown to be kept/);
  });

  it('says that what to expect leaves a new mask as it is, and nothing of masks where none is new', () => {
    const unseen = {
      how: 'leave one clip out' as const,
      recall: { value: 0.6, low: 0.4, high: 0.8, n: 20 },
      falsePerHour: null,
      moreVisits: 0,
    };
    const recommended = choice(5, 15, 4);
    const told = { recommended: { ...recommended, unseen } };
    const mask = { polygons: [], withoutIt: recommended, provedOn: 'footage left out' as const };
    expect(text({ ...told, mask })).toMatch(/the mask was not: it was chosen once, on all of the footage/);
    expect(text(told)).not.toMatch(/mask/);
  });
});
