import { createHash } from 'node:crypto';
import ical, { ICalAlarmType, ICalEventTransparency } from 'ical-generator';
import { type DialsPlanned, isAwake, type PlanResult, type SitePlan } from '../jobs/plan.js';
import { hourOfDay, parseInstant } from '../plan/instant.js';
import { dialsOf, isInUse, planAdvice, plannedName, walksText } from '../words/plan-wording.js';

/** Minutes that turning the dials is put down for, and before which the phone reminds. */
const [TURNING, AHEAD] = [15, 15];

/** Something to do at one camera. */
export interface Errand {
  at: string;
  site: string;
  dials: DialsPlanned;
  /** What it is part of. */
  why: string;
}

/**
 * What is to be set when: at the start, and at every walk that is worth it; nothing where too little can be told, or where what
 * is in use stays.
 */
export function errandsOf(plan: PlanResult): Errand[] {
  return plan.sites.flatMap((site) => errandsAt(site, plan));
}

function errandsAt(site: SitePlan, plan: PlanResult): Errand[] {
  const first = { at: firstAwake(plan), site: plannedName(site), why: walksText(site, plan) };
  switch (planAdvice(site)) {
    case 'too little':
      return [];
    case 'leave':
      return isInUse(site) ? [] : [{ ...first, dials: site.week.one }];
    case 'change': {
      const walks = walksOf(site, first.why);
      // Who begins when the first walk is due sets what that walk is for.
      const isDue = walks.some(({ at }) => parseInstant(at, '').ms <= parseInstant(first.at, '').ms);
      return isDue ? walks : [{ ...first, dials: site.week.changing.first }, ...walks];
    }
  }
}

/** Nobody is woken at night to hang a camera. */
function firstAwake({ weather, awake, from }: PlanResult): string {
  return weather.find(({ at }) => isAwake(hourOfDay(parseInstant(at, '')), awake))?.at ?? from;
}

function walksOf(site: SitePlan, why: string): Errand[] {
  return site.week.changing.changes.map(({ at, settings, controls }) => ({
    at,
    site: plannedName(site),
    dials: { settings, controls },
    why,
  }));
}

/**
 * The errands of a plan as an iCalendar file (RFC 5545), each with a reminder. The same plan gives the same bytes: what stands
 * for the time of writing is the plan's first hour, and ids are made of content.
 */
export function calendarOf(plan: PlanResult): string {
  const stamp = new Date(parseInstant(plan.from, '').ms);
  const calendar = ical({
    prodId: { company: 'perchmark', product: 'plan', language: 'EN' },
    name: 'Camera settings',
  });
  for (const errand of errandsOf(plan)) {
    const start = parseInstant(errand.at, '').ms;
    const summary = `${errand.site}: ${dialsOf(errand.dials)}`;
    const event = calendar.createEvent({
      id: `${digestOf(errand)}@perchmark.invalid`,
      stamp,
      start: new Date(start),
      end: new Date(start + TURNING * 60_000),
      summary,
      description: errand.why,
      transparency: ICalEventTransparency.TRANSPARENT,
    });
    event.createAlarm({
      type: ICalAlarmType.display,
      triggerBefore: AHEAD * 60,
      description: summary,
    });
  }
  return `${calendar.toString()}\r\n`;
}

function digestOf({ at, site, dials }: Errand): string {
  return createHash('sha256')
    .update(JSON.stringify([at, site, dials]))
    .digest('hex')
    .slice(0, 32);
}
