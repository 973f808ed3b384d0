import type { Labels, Stretch, Visit } from '../../../score/labels.js';
import type { Observation } from './observation.js';

/** The most that labels can hold of one visit. */
const MOST_AT_ONCE = 1_000_000;

type Box = NonNullable<Visit['box']>;

/** Rows of other programs that are one visit: one event, or one sequence of pictures, of one type and name. */
class Event {
  start = Number.POSITIVE_INFINITY;
  end = Number.NEGATIVE_INFINITY;
  private box: Box | null = null;
  private counted = false;
  /** By medium; the event itself under no name. */
  private readonly counts = new Map<string, number>();

  constructor(
    readonly type: Visit['type'],
    readonly name: string | undefined,
  ) {}

  add({ start, end, count, box, mediaID }: Observation): void {
    this.start = Math.min(this.start, start);
    this.end = Math.max(this.end, end);
    this.counted ||= count !== undefined;
    this.counts.set(mediaID, (this.counts.get(mediaID) ?? 0) + (count ?? 1));
    if (box) this.box = hull(this.box, box);
  }

  addBox(box: Box): void {
    this.box = hull(this.box, box);
  }

  /** As many as one picture shows at once; where nobody counted, that is not said. */
  visit(): Visit {
    const most = [...this.counts.values()].reduce((a, b) => Math.max(a, b), 1);
    return {
      start: this.start,
      end: this.end,
      type: this.type,
      ...(this.name !== undefined && { name: this.name }),
      ...(this.counted && { count: Math.min(MOST_AT_ONCE, most) }),
      ...(this.box && { box: this.box }),
    };
  }
}

/** The least box that holds both. */
function hull(one: Box | null, [x, y, width, height]: Box): Box {
  if (!one) return [x, y, width, height];
  const [left, top] = [Math.min(one[0], x), Math.min(one[1], y)];
  const right = Math.max(one[0] + one[2], x + width);
  const bottom = Math.max(one[1] + one[3], y + height);
  return [left, top, Math.min(1 - left, right - left), Math.min(1 - top, bottom - top)];
}

/** What rows of other programs say, as labels. */
export interface Told {
  visits: Visit[];
  ignored: NonNullable<Labels['ignored']>;
  /** Time of which a row says what was in it, or that nothing was. */
  lookedAt: Stretch[];
  /** Boxes of pictures that belong to no visit, or to one of several. */
  looseBoxes: number;
}

/**
 * Visits from rows that other programs wrote. Rows of one event with one type and name are one visit, their counts added up;
 * rows of pictures give the event that they belong to its box, the least that holds all of theirs, and are a visit where there
 * is no such event: one for each eventID, or, without one, for each sequence of one type and name in which no more than `gap`
 * seconds lie between two. Blank is no visit, and setting the camera up counts neither for nor against.
 */
export function eventsOf(rows: readonly Observation[], gap: number): Told {
  const told: Told = { visits: [], ignored: [], lookedAt: [], looseBoxes: 0 };
  const seen: Observation[] = [];
  for (const row of rows) {
    const { start, end, type, setup } = row;
    if (setup !== null) {
      told.ignored.push({ start, end, why: setup === 'setup' ? 'setting up' : 'calibration' });
      continue;
    }
    if (type !== 'unclassified') told.lookedAt.push({ start, end });
    if (type !== 'blank') seen.push(row);
  }
  const events = new Map<string, Event>();
  const byID = new Map<string, Event[]>();
  for (const [i, row] of seen.entries()) {
    if (row.level !== 'event') continue;
    const { eventID, start, end } = row;
    const fresh = into(events, eventID === '' ? `row ${i}` : `${keyOf(row)} ${start} ${end}`, row);
    if (fresh && eventID !== '') byID.set(eventID, [...(byID.get(eventID) ?? []), fresh]);
  }
  const loose: Observation[] = [];
  for (const row of seen) {
    if (row.level !== 'media') continue;
    const of = byID.get(row.eventID);
    if (of) {
      const alike = of.filter(({ type, name }) => type === row.type && name === row.scientificName);
      const [only, another] = alike.length > 0 ? alike : of;
      if (row.box && only && !another) only.addBox(row.box);
      else if (row.box) told.looseBoxes++;
    } else if (row.eventID !== '') into(events, `media ${keyOf(row)}`, row);
    else loose.push(row);
  }
  sequences(loose, gap, events);
  const visits = [...events.values()].map((event) => event.visit());
  told.visits = visits.sort((a, b) => a.start - b.start || a.end - b.end);
  return told;
}

/** @returns the event where it is a new one */
function into(events: Map<string, Event>, key: string, row: Observation): Event | null {
  const known = events.get(key);
  const event = known ?? new Event(row.type, row.scientificName);
  event.add(row);
  if (known) return null;
  events.set(key, event);
  return event;
}

function keyOf({ eventID, type, scientificName }: Observation): string {
  return JSON.stringify([eventID, type, scientificName ?? null]);
}

function sequences(rows: readonly Observation[], gap: number, events: Map<string, Event>): void {
  const latest = new Map<string, Event>();
  for (const row of [...rows].sort((a, b) => a.start - b.start)) {
    const of = latest.get(keyOf(row));
    if (of && row.start <= of.end + gap) {
      of.add(row);
      continue;
    }
    const event = into(events, `sequence ${events.size} ${keyOf(row)}`, row);
    if (event) latest.set(keyOf(row), event);
  }
}
