import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import type { DialsPlanned, PlanResult, SitePlan } from '../../src/jobs/plan.js';
import { calendarOf, errandsOf } from '../../src/report/plan-calendar.js';

const dials = (sensitivity: number): DialsPlanned => ({
  settings: { version: 1, threshold: 24, minimumArea: 50, mostChanged: 500, persistence: 1, cooldown: 5 },
  controls: { sensitivity, cooldown: 5 },
});
const told = { recall: null, falsePerHour: null, photosOfNothing: null };
const gain = { value: 1, low: 0.5, high: 2 };

const site = (name: string, given: Partial<SitePlan> = {}, worthIt = true): SitePlan => ({
  site: name,
  clips: ['clip'],
  tells: 'enough',
  visits: 30,
  stretches: [],
  conditions: [],
  kinds: [],
  hours: { ofUse: 10, tooDark: 0, notTold: 0 },
  week: {
    one: { ...told, ...dials(7) },
    changing: {
      ...told,
      first: dials(8),
      changes: [{ at: '2027-05-05T07:00:00+01:00', ...dials(4) }],
    },
    walks: 1,
    gain: { recall: gain, photosOfNothing: gain, worth: gain },
    worthIt,
    holds: null,
  },
  inUse: null,
  limit: null,
  photosPerTrigger: 1,
  allowance: null,
  placeKnown: true,
  assumed: [],
  defaults: [],
  notes: [],
  ...given,
});
const plan = (...sites: SitePlan[]): PlanResult => ({
  from: '2027-05-04T06:00:00+01:00',
  to: '2027-05-06T06:00:00+01:00',
  hours: 48,
  worth: 10,
  walk: 20,
  awake: { from: 7, until: 21 },
  sites,
  weather: [],
});
const strange = 'log pile; "north", \\ back\nBEGIN:VEVENT é日本';

/** ical.js reads RFC 5545 by itself. */
const eventsIn = (text: string) =>
  new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent').map((event) => new ICAL.Event(event));

describe('the calendar of a plan', () => {
  it('is RFC 5545 by an independent reader: what to set at the start and at each walk, by UTC', () => {
    const events = eventsIn(calendarOf(plan(site(strange))));
    expect(events.map(({ summary }) => summary)).toEqual([
      `${strange}: sensitivity 8, cooldown 5`,
      `${strange}: sensitivity 4, cooldown 5`,
    ]);
    expect(events.map(({ startDate }) => startDate.toJSDate().toISOString())).toEqual([
      '2027-05-04T05:00:00.000Z',
      '2027-05-05T06:00:00.000Z',
    ]);
    expect(events.every(({ startDate }) => startDate.zone === ICAL.Timezone.utcTimezone)).toBe(true);
  });

  it('has one errand where the first walk is due at the first hour that somebody is awake', () => {
    const due = site('pile');
    const week = {
      ...due.week,
      changing: { ...due.week.changing, changes: [{ at: '2027-05-04T07:00:00+01:00', ...dials(4) }] },
    };
    const weather = ['06', '07'].map((h) => ({ at: `2027-05-04T${h}:00:00+01:00`, wind: 1, rain: 0 }));
    const errands = errandsOf({ ...plan({ ...due, week }), weather });
    expect(errands.map(({ at, dials: { controls } }) => [at, controls.sensitivity])).toEqual([
      ['2027-05-04T07:00:00+01:00', 4],
    ]);
  });

  it('has nothing to set where what is in use stays', () => {
    expect(errandsOf(plan(site('pile', { inUse: dials(7) }, false)))).toEqual([]);
    const other = { ...dials(9), settings: { ...dials(9).settings, threshold: 30 } };
    expect(errandsOf(plan(site('pile', { inUse: other }, false)))).toHaveLength(1);
  });

  it('wakes nobody at night to begin with', () => {
    const hours = ['00:00', '06:00', '07:00', '08:00'].map((at) => ({
      at: `2027-05-04T${at}:00+01:00`,
      wind: 1,
      rain: 0,
    }));
    const [first] = errandsOf({ ...plan(site('a')), from: hours[0]!.at, weather: hours });
    expect(first?.at).toBe('2027-05-04T07:00:00+01:00');
  });

  it('reminds before each', () => {
    for (const { component } of eventsIn(calendarOf(plan(site('a'))))) {
      const [alarm] = component.getAllSubcomponents('valarm');
      expect(alarm?.getFirstPropertyValue('action')).toBe('DISPLAY');
      expect(String(alarm?.getFirstPropertyValue('trigger'))).toBe('-PT15M');
      expect(alarm?.getFirstPropertyValue('description')).toMatch(/sensitivity/);
    }
  });

  it('has lines of at most 75 octets that end in CRLF, required by RFC 5545, section 3.1', () => {
    const text = calendarOf(plan(site(strange.repeat(5))));
    expect(text.endsWith('END:VCALENDAR\r\n')).toBe(true);
    for (const line of text.split('\r\n')) {
      expect(line).not.toMatch(/[\r\n]/);
      expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
    }
  });

  it('is the same bytes for the same plan, and no two errands share an id', () => {
    const both = plan(site('a'), site('b'));
    expect(calendarOf(both)).toBe(calendarOf(structuredClone(both)));
    const ids = eventsIn(calendarOf(both)).map(({ uid }) => uid);
    expect(new Set(ids).size).toBe(4);
  });

  it('holds what to leave in place where walks are not worth it, and nothing where too little can be told', () => {
    expect(
      errandsOf(plan(site('a', {}, false))).map(({ dials: { controls } }) => controls.sensitivity),
    ).toEqual([7]);
    expect(errandsOf(plan(site('a', { tells: 'too little' })))).toEqual([]);
  });
});
