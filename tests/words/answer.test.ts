import { describe, expect, it } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import type { SiteResult } from '../../src/jobs/tune.js';
import { expectedIn } from '../../src/report/card-of.js';
import { noCounts, scoreOf } from '../../src/score/score.js';
import { nowText, usedText } from '../../src/words/against-now.js';
import {
  adviceOn,
  headingOver,
  headline,
  moreVisitsText,
  tooManyText,
  whatToRecord,
} from '../../src/words/answer.js';
import { sensibleChoices, whyFirst } from '../../src/words/choices.js';
import { explain } from '../../src/words/explain.js';
import { byBouts, falseAnHour, foretold, quickest, withinCooldown } from '../../src/words/ratios.js';
import { now, tuned } from '../report/example.js';

const camera = defaultCamera;
const score = (caught: number, falseTriggers: number, visits = 20) =>
  scoreOf({ ...noCounts, visits, caught, trueTriggers: caught, falseTriggers, watchedSeconds: 3600 });
const visits = (n: number) =>
  Array.from({ length: n }, (_, i) => ({ clip: 'a', start: i, end: i, name: null }));
const [more, fewer, either] = [
  { value: 0.5, low: 0.2, high: 0.8 },
  { value: -0.5, low: -0.8, high: -0.2 },
  { value: 0.1, low: -0.1, high: 0.3 },
];

/** A site by worth, ten photos of nothing a visit, at which so many visits are gained and false triggers added. */
function site(
  gained: number,
  added: number,
  rest: Partial<SiteResult> = {},
  differ = [more, more],
): SiteResult {
  return {
    ...tuned,
    allowance: null,
    worth: { photos: 10 },
    recommended: { ...tuned.recommended, score: score(15, 10 + added) },
    now: {
      ...now,
      settings: { ...now.settings, cooldown: 30 },
      assumed: false,
      score: score(15 - gained, 10),
      against: {
        gained: visits(gained),
        lost: [],
        byLuck: null,
        recall: differ[0] ?? null,
        falsePerHour: differ[1] ?? null,
      },
    },
    ...rest,
  };
}

describe('heading, headline and verdict', () => {
  const said = (of: SiteResult) =>
    [headingOver(of, camera), headline(of, camera), nowText(of, camera)].join('\n');

  it('agree that it is better where more visits and more false triggers are worth it', () => {
    const better = site(14, 8);
    expect(adviceOn(better, camera)).toBe('use');
    expect(said(better)).toMatch(/^As a hint, set it like this\nAs a hint, use sensitivity/);
    expect(said(better)).toMatch(/and worth it where a visit is worth 10 photos of nothing: change\.$/);
  });

  it('agree that it is not where they are not', () => {
    expect(said(site(2, 100))).toMatch(/^Keep what you use now, rather than this\nKeep what you use now/);
    expect(said(site(2, 100))).toMatch(/not worth it where .*: keep yours\.$/);
  });

  it('agree that too little can be told whether it is better', () => {
    const unsure = site(2, 1, {}, [either, either]);
    expect(said(unsure)).toMatch(
      /^If you are not content, set it like this\nKeep what you use now if you are/,
    );
    expect(said(unsure)).toMatch(
      /Too little to tell whether that is better: keep yours if you are content\.$/,
    );
  });

  it('keep nothing that nobody uses', () => {
    const unsure = site(2, 1, {}, [either, either]);
    const assumed = { ...unsure, now: { ...unsure.now, assumed: true } };
    expect(said(assumed)).toMatch(/^As a hint, set it like this/);
    expect(said(assumed)).not.toMatch(/[Kk]eep|leave/);
  });

  it('have no verdict where there is too little to tell', () => {
    const few = site(14, 8, { tells: 'too little' });
    expect(said(few)).toMatch(
      /^Too little to tell; until then A\nToo little to tell which settings are best\.\nA: 14 visits/,
    );
    expect(said(few)).not.toMatch(/change|worth/);
  });

  it('advise nothing that catches no visit but by luck, be it the best at that price', () => {
    const none = (rest: Partial<SiteResult>, byLuck = 0) => {
      const of = site(0, 0, rest);
      const caught = { ...score(byLuck, 0), byLuck };
      return { ...of, recommended: { ...of.recommended, score: caught } };
    };
    const within = {
      falsePerHour: 10,
      kept: true,
      hoursNeeded: 0.3,
      sure: null,
      hoursToBeSure: null,
      reached: null,
    };
    expect(said(none({}))).toMatch(
      /^This catches nothing: .*\nNothing tried catches any of the 20 visits at the price asked for: say that a visit is worth more photos of nothing, or hang .* First by that price: sensitivity/,
    );
    expect(said(none({ worth: null, allowance: within }, 1))).toMatch(
      /asked for, but by luck: allow more false triggers, or hang/,
    );
    expect(said(none({ tells: 'too little' }))).toMatch(/^Too little to tell/);
  });

  it('say of what is used already that it is the same, and not that it cannot be told whether it is better', () => {
    const unsure = site(0, 0, {}, [either, either]);
    const same = { ...unsure, now: { ...unsure.now, settings: unsure.recommended.settings } };
    expect(said(same)).toMatch(/^As a hint, leave it as it is\nAs a hint, leave it as you use it now: sens/);
    expect(said(same)).toMatch(/\nthe same as you use\.$/i);
    const masked = {
      ...same.recommended.settings,
      mask: [[[0, 0] as const, [1, 0] as const, [0, 1] as const]],
    };
    const unlike = { ...same, recommended: { ...same.recommended, settings: masked as never } };
    expect(adviceOn(unlike, camera)).toBe('keep if content');
  });

  it('do not call worse for certain what is worth more', () => {
    expect(adviceOn(site(3, 5, {}, [either, more]), camera)).toBe('keep if content');
    expect(adviceOn(site(0, 5, {}, [either, more]), camera)).toBe('keep');
    expect(adviceOn(site(0, -5, {}, [either, fewer]), camera)).toBe('use');
  });
});

describe('the sensible choices', () => {
  it('begin with the one that the dials show, then catch more, then fire less', () => {
    const [first, ...others] = sensibleChoices(tuned, camera);
    expect(first).toMatchObject({ name: 'A', controls: tuned.recommended.controls });
    expect(others.map(({ name, recall }) => [name, recall?.value])).toEqual([
      ['B', 0.95],
      ['C', 0.3],
    ]);
  });

  it('say why the first is first where another catches more for no more false triggers', () => {
    const choice = (name: string, recall: number, perHour: number) => ({
      name,
      controls: {},
      recall: { value: recall, low: 0, high: 1, n: 8 },
      falsePerHour: { value: perHour, low: 0, high: 400 },
    });
    const [a, b, c] = [choice('A', 0.875, 198), choice('B', 1, 198), choice('C', 0.63, 28)];
    expect(whyFirst([a, b, c])).toMatch(
      /^B did better than A on these clips, which may be luck: A comes first/,
    );
    expect(whyFirst([a, choice('B', 1, 199), c])).toBeNull();
  });
});

describe('an interval of false triggers an hour', () => {
  it('ends where the cooldown lets it fire no more often, and holds the rate that was counted', () => {
    const told = { value: 303, low: 75, high: 823 };
    expect(withinCooldown(told, { cooldown: 10 })).toEqual({ ...told, high: 360 });
    expect(withinCooldown({ ...told, value: 365 }, { cooldown: 10 })).toMatchObject({
      value: 365,
      high: 365,
    });
    expect(withinCooldown(told, { cooldown: 0 })).toEqual(told);
  });

  it('of several groups of settings ends where the quickest lets it', () => {
    const score = { falsePerHour: { value: 303, low: 75, high: 823, n: 9 } };
    expect(byBouts(score, quickest([{ cooldown: 60 }, { cooldown: 5 }]))?.high).toBe(720);
  });

  it('foretold by choices with a shorter cooldown ends there with its value', () => {
    const unseen = { falsePerHour: { value: 400, low: 100, high: 900, hours: 1 } };
    expect(foretold({ unseen, settings: { cooldown: 10 } })).toEqual({ value: 360, low: 100, high: 360 });
    expect(foretold({ unseen: { falsePerHour: null }, settings: { cooldown: 10 } })).toBeNull();
  });

  it('is told in triggers, and in photos where a trigger takes several', () => {
    const told = { value: 6, low: 1.5, high: 19 };
    expect([1, 2].map((photos) => falseAnHour(told, photos))).toEqual([
      '6 (1.5–19)',
      '6 (1.5–19), 12 photos',
    ]);
    expect(falseAnHour(null, 2)).toBe('-');
  });
});

describe('what to record', () => {
  const text = (n: number, moreVisits: number) =>
    moreVisitsText({
      score: score(0, 0, n),
      unseen: { how: 'too little to tell', recall: null, falsePerHour: null, moreVisits },
    });

  it('asks for a hint from 8 visits on and for advice from 20 on', () => {
    expect(text(3, 5)).toMatch(/about 5 more visits.* for a hint; about 17 more for advice to rest on\./);
    expect(text(12, 30)).toMatch(/about 30 more visits.* for advice to rest on\./);
    expect(text(9, 0)).toMatch(/a second clip/);
  });

  it('says why visits enough for a hint are still too little', () => {
    const of = (n: number, moreVisits: number) =>
      whatToRecord({
        ...site(0, 0, { tells: 'too little' }),
        recommended: {
          ...tuned.recommended,
          score: score(3, 0, n),
          unseen: { how: 'too little to tell', recall: null, falsePerHour: null, moreVisits },
        },
      });
    expect(of(16, 13)).toMatch(/16 visits in .*left out, they leave open nearly any share.*13 more visits/);
    expect(of(3, 5)).not.toMatch(/leave open/);
  });
});

describe('too many photos', () => {
  const foretold = (value: number, name = 'log pile') => {
    const of = site(1, 0, { site: name });
    const falsePerHour = { value, low: value / 10, high: 3 * value, hours: 1 };
    return {
      ...of,
      recommended: { ...of.recommended, unseen: { ...of.recommended.unseen, falsePerHour } },
    };
  };
  const said = (sites: SiteResult[], hoursOut?: number) =>
    tooManyText(sites, () => camera, 'Ask for less.', hoursOut);

  it('are spoken of only from a few hundred a day on where nobody said how many may be', () => {
    expect(said([foretold(6)])).toBeNull();
    expect(said([foretold(57.2)])).toBe(
      'About 2700 photos of nothing in 24 hours out (90 %: 270–8200, 2 a trigger), as tried on footage left out; 480 at the rate of these clips themselves. Ask for less.',
    );
  });

  it('are said of the only site that can be told of, where there are others', () => {
    const site = { ...foretold(57.2), site: 'log pile' };
    expect(said([site, { ...site, site: 'water bowl', tells: 'too little' }])).toMatch(
      /^About 2700 photos of nothing in 24 hours out at log pile \(90 %/,
    );
  });

  it('are held against what was allowed, on footage left out, however few', () => {
    const within = (of: SiteResult, falsePerHour: number, hoursNeeded: number): SiteResult => ({
      ...of,
      worth: null,
      allowance: { falsePerHour, kept: true, hoursNeeded, sure: null, hoursToBeSure: null, reached: null },
    });
    // 50 photos in 16 hours, two a trigger.
    expect(said([within(foretold(71), 1.5625, 1.92)], 16)).toBe(
      'About 2300 photos of nothing in 16 hours out (90 %: 230–6800, 2 a trigger), as tried on footage left out; 320 at the rate of these clips themselves. More than the 50 that are allowed; too little is recorded to tell: record 1.9 watched hours.',
    );
    expect(said([within(foretold(1), 1.5625, 1)], 16)).toMatch(/ No more than the 50 that are allowed\.$/);
  });

  it('take one figure of the hours that tell, by how sure it is to be where that was said', () => {
    const sure = {
      falsePerHour: 1.5625,
      kept: true,
      hoursNeeded: 1.92,
      sure: 0.8,
      hoursToBeSure: 1.28,
      reached: 0.7,
    };
    const of = { ...foretold(71), allowance: sure, worth: null };
    expect(said([of], 16)).toMatch(/record 1\.3 watched hours\.$/);
    // To be sure, the settings themselves are tried (tune/unseen.ts), so not on footage left out.
    expect([said([of], 16), ...explain(of)].join(' ')).not.toMatch(
      /left out, a stretch|left out;|chosen anew/,
    );
    expect(explain(of).filter((sentence) => sentence.includes('watched hours'))).toEqual([
      expect.stringContaining('takes about 1.3 watched hours'),
    ]);
  });

  it('are no more than the cooldown lets there be', () => {
    // The settings recommended here have a cooldown of 10 s.
    const of = foretold(300);
    expect(of.recommended.settings.cooldown).toBe(10);
    expect(said([of])).toMatch(/^About 14000 photos .* \(90 %: 1400–17000, 2 a trigger\)/);
  });

  it('are those of the hours out, at the spot named that takes most', () => {
    expect(said([foretold(20), foretold(57.2, 'water bowl')], 12)).toMatch(
      /^About 1400 photos of nothing in 12 hours out at water bowl, where they are most \(/,
    );
  });

  it('are as many as the card says', () => {
    const { photosOfNothing } = expectedIn(foretold(57.2), camera, 10);
    expect(photosOfNothing?.value).toBe(1100);
    expect(said([foretold(57.2)], 10)).toContain('About 1100 photos of nothing in 10 hours out');
  });
});

describe('what is used now', () => {
  it('is told what gets worse by changing, where that is not for certain', () => {
    const within = {
      falsePerHour: 12,
      kept: true,
      hoursNeeded: 0.25,
      sure: null,
      hoursToBeSure: null,
      reached: null,
    };
    const lost = (allowance: SiteResult['allowance'], before: number) => {
      const of = site(1, 0, { allowance, worth: allowance ? null : { photos: 1 } }, [either, fewer]);
      const against = { ...of.now.against, lost: visits(2) };
      return { ...of, now: { ...of.now, against, score: score(16, before) } };
    };
    expect(nowText(lost(within, 690), camera)).toMatch(
      /\. Yours breaks the allowance; this keeps it on these clips, and catches fewer visits: change\.$/,
    );
    expect(nowText(lost(null, 690), camera)).toMatch(
      /\. Fewer false triggers for certain, and fewer visits on these clips: change\.$/,
    );
    // Within the allowance as it is: false triggers fewer still are no reason to lose visits.
    expect(adviceOn(lost(within, 11), camera)).toBe('keep if content');
  });

  it('is told of more false triggers beside visits that are more for certain', () => {
    expect(nowText(site(3, 2, {}, [more, either]), camera)).toMatch(
      /\. More visits for certain, and more false triggers on these clips: change\.$/,
    );
  });

  it('tells visits gained by luck apart', () => {
    const one = site(3, -4);
    const against = { ...one.now.against, byLuck: { gained: 2, lost: 0 } };
    expect(nowText({ ...one, now: { ...one.now, against } }, camera)).toMatch(
      /^3 visits more caught, 2 of them by luck, 0 lost/,
    );
  });

  it('names the dials that its file does not, and where they stand', () => {
    expect(usedText({ ...now, assumed: false, unnamed: { mostChanged: 76_800 } })).toBe(
      'Compared with what you use now (sensitivity 3, minimumArea 100, cooldown 10). Not named there: mostChanged is taken as 76800.',
    );
  });
});
