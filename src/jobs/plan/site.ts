import type { Clip } from '../../clip/open.js';
import { dialsGiving, fileOf } from '../../diagnose/missed/nearest-grid.js';
import { chooserOf, isAsTuned } from '../../plan/chosen-anew.js';
import { comingOf, type Evidence } from '../../plan/evidence.js';
import { type Foretold, foretell, type Together, together } from '../../plan/foretold.js';
import { weekHoldsWithin } from '../../plan/holds.js';
import { HOUR_MS, type Hour, hoursOf, kindsOf } from '../../plan/hours.js';
import { later, rfc3339 } from '../../plan/instant.js';
import { conditionsOfKind, type Kind, keyOfKind, kindText } from '../../plan/kind.js';
import type { PlanGoal } from '../../plan/plan-goal.js';
import { stretchesOf } from '../../plan/stretches.js';
import { isOfUse, type Week, type WeekInput, weekOf } from '../../plan/week.js';
import { poolOf } from '../../tune/pool.js';
import { recommend } from '../../tune/recommend.js';
import { tellsOf } from '../../tune/tells.js';
import { unseenOf } from '../../tune/unseen.js';
import { windierThan } from '../../tune/weather-to-try.js';
import type { Off } from '../../weather/off.js';
import type { OpenPorts } from '../ports.js';
import { sweepSite } from '../tune/sweep-site.js';
import { allowanceOver } from './allowance.js';
import { cardNote } from './card-note.js';
import { darknessAt } from './darkness.js';
import { evidenceFor } from './evidence-for.js';
import { heldWithin } from './held-within.js';
import type { SiteOptions } from './options.js';
import { otherwiseTuned } from './otherwise-tuned.js';
import type { DialsPlanned, KindPlanned, SitePlan, Stretch, WeekTold } from './result.js';

/** The plan of one site: its clips swept as tuning does, then the kinds of hours that the forecast holds. */
export async function planSite(
  site: string | null,
  clips: readonly Clip[],
  options: SiteOptions,
  ports: OpenPorts,
): Promise<SitePlan> {
  const { camera, grid, forecast, goal, walkCost } = options;
  const { swept, judged, masked, sources } = await sweepSite(clips, camera, grid, ports, () => goal);
  const place = clips.flatMap(({ manifest }) => manifest.place ?? [])[0] ?? null;
  const recorded = judged.map((clip) => ({ ...clip, ...masked?.mask.clips[swept.indexOf(clip)] }));
  const pool = poolOf(recorded.map(({ whole }) => whole));
  const recommended = masked?.setting ?? recommend(pool, grid, goal).setting;
  const tells = tellsOf(pool.visits, unseenOf(recorded, recommended, grid, goal, recommend));
  const hours = hoursOf(forecast, place);
  const source = options.recordedOnly ? undefined : sources[0];
  const { darkness, limit } = await darknessAt(hours, source, options, ports);
  const kinds = kindsOf(hours, darkness);
  const swayFrom = source && windierThan(source, clips);
  const ofUse = kinds.filter(isOfUse);
  const found = await evidenceFor(ofUse, recorded, source, swayFrom, darkness, options, ports);
  const week = weekOf({
    kinds,
    mayWalk: hours.map(({ at }) => options.mayWalk(at)),
    evidence: found.evidence,
    recorded,
    recommended,
    tooLittle: tells === 'too little',
    grid,
    goal,
    walkCost,
  });
  const teller = tellerOf(
    found.evidence,
    week,
    { recorded, recommended },
    { coming: comingOf(pool), grid, goal },
  );
  const dials = (setting: number): DialsPlanned => ({
    settings: { version: 1, ...grid.settingsAt(setting), ...(masked && { mask: masked.mask.mask }) },
    controls: grid.controlsAt(setting),
  });
  const advised = week.worthIt ? week.course : kinds.map(() => week.one);
  const holds = weekHoldsWithin(week, { coming: comingOf(pool), grid, goal });
  const held = allowanceOver(kinds, advised, found.evidence, goal);
  const counts = countsOf(kinds, teller);
  const told = weekTold(week, hours, kinds, teller, dials, goal);
  const { photosOfNothing } = week.worthIt ? told.changing : told.one;
  const perHour = (photosOfNothing?.value ?? 0) / Math.max(1, counts.ofUse);
  const full = cardNote(perHour, (24 * counts.ofUse) / kinds.length, camera);
  return {
    site,
    clips: swept.map(({ clip }) => clip),
    tells,
    visits: pool.visits,
    photosPerTrigger: camera.burst.photos,
    allowance: held.allowance,
    stretches: stretchesOf(kinds, advised).map((row): Stretch => {
      const { recall, falsePerHour, photosPerHour } = teller.tell(row.kind, row.setting);
      return {
        from: rfc3339(hours[row.from]!.at),
        to: rfc3339(later(hours[row.to - 1]!.at, HOUR_MS)),
        hours: row.to - row.from,
        conditions: conditionsOfKind(row.kind),
        weather: kindText(row.kind),
        controls: row.kind.light === 'too dark' ? null : grid.controlsAt(row.setting),
        recall,
        falsePerHour,
        photosPerHour,
        source: teller.evidenceOf(row.kind)?.source ?? null,
      };
    }),
    conditions: kindsPlanned(kinds, (kind) => conditionsOfKind(kind).join(', '), advised, teller, goal),
    kinds: kindsPlanned(kinds, kindText, advised, teller, goal),
    hours: counts,
    week: { ...told, holds },
    inUse: options.inUse && {
      settings: fileOf(options.inUse, options.inUse.mask),
      controls: dialsGiving(camera, options.inUse),
    },
    limit: limit && { tells: limit.tells, lux: limit.lux },
    placeKnown: place !== null,
    assumed: found.assumed,
    defaults: found.defaults,
    notes: [
      ...(tells === 'too little' ? [] : otherwiseTuned(week.one, recommended, grid, goal)),
      ...heldWithin(holds),
      ...held.notes,
      ...found.notes,
      ...(full === null ? [] : [full]),
    ],
  };
}

interface Teller {
  evidenceOf(kind: Kind): Evidence | null;
  tell(kind: Kind, setting: number): Foretold;
}

/** What each setting does in each kind of hours, worked out once. */
function tellerOf(
  evidence: readonly Evidence[],
  week: Week,
  tuned: Pick<WeekInput, 'recorded' | 'recommended'>,
  by: Parameters<typeof foretell>[3],
): Teller {
  const byKind = new Map(evidence.map((one) => [keyOfKind(one.kind), one]));
  const told = new Map<string, Foretold>();
  const evidenceOf = (kind: Kind) => byKind.get(keyOfKind(kind)) ?? null;
  return {
    evidenceOf,
    tell(kind, setting) {
      const key = `${keyOfKind(kind)} ${setting}`;
      const known = told.get(key);
      if (known) return known;
      const of = evidenceOf(kind);
      const choose = of && isAsTuned(of, setting, tuned) ? recommend : chooserOf(week, kind, setting, by);
      const foretold = foretell(of, setting, choose, by);
      told.set(key, foretold);
      return foretold;
    },
  };
}

function countsOf(kinds: readonly Kind[], teller: Teller): SitePlan['hours'] {
  const tooDark = kinds.filter(({ light }) => light === 'too dark').length;
  const told = kinds.filter((kind) => teller.evidenceOf(kind) !== null).length;
  return { ofUse: told, tooDark, notTold: kinds.length - tooDark - told };
}

/** Hours that have one name, most first, and what to expect in them of what is in force; those too dark and not told come last. */
function kindsPlanned(
  kinds: readonly Kind[],
  nameOf: (kind: Kind) => string,
  advised: readonly number[],
  teller: Teller,
  goal: PlanGoal,
): KindPlanned[] {
  const stateOf = (kind: Kind): KindPlanned['state'] => {
    if (kind.light === 'too dark') return 'too dark';
    return teller.evidenceOf(kind) === null ? 'not known' : 'told';
  };
  const places = new Map<string, number[]>();
  kinds.forEach((kind, hour) => {
    const state = stateOf(kind);
    const name = state === 'told' ? nameOf(kind) : state;
    places.set(name, [...(places.get(name) ?? []), hour]);
  });
  const order: readonly KindPlanned['state'][] = ['told', 'not known', 'too dark'];
  return [...places]
    .map(([weather, at]): KindPlanned => {
      const evidence = at.flatMap((hour) => teller.evidenceOf(kinds[hour]!) ?? []);
      const sources = [...new Set(evidence.map(({ source }) => source))];
      const { recall, falsePerHour } = ofHours(at, kinds, advised, teller, goal);
      const state = stateOf(kinds[at[0]!]!);
      return {
        weather,
        state,
        hours: at.length,
        clips: [...new Set(evidence.flatMap(({ clips }) => clips))],
        source: sources.length > 1 ? 'both' : (sources[0] ?? null),
        sample: evidence.find(({ sample }) => sample !== undefined)?.sample ?? null,
        off: widest(evidence.filter(({ source }) => source === 'simulated')),
        recall,
        falsePerHour,
      };
    })
    .sort((a, b) => order.indexOf(a.state) - order.indexOf(b.state) || b.hours - a.hours);
}

/** What holds the ranges of all of them; null where any has none. */
function widest(simulated: readonly Evidence[]): Off | null {
  const offs = simulated.flatMap(({ off }) => off ?? []);
  if (offs.length === 0 || offs.length < simulated.length) return null;
  return { low: Math.min(...offs.map(({ low }) => low)), high: Math.max(...offs.map(({ high }) => high)) };
}

function ofHours(
  at: readonly number[],
  kinds: readonly Kind[],
  course: readonly number[],
  teller: Teller,
  goal: PlanGoal,
): Together {
  const spent = at.map((hour) => ({ hours: 1, foretold: teller.tell(kinds[hour]!, course[hour]!) }));
  return together(spent, goal.photosPerTrigger);
}

function weekTold(
  week: Week,
  hours: readonly Hour[],
  kinds: readonly Kind[],
  teller: Teller,
  dials: (setting: number) => DialsPlanned,
  goal: PlanGoal,
): Omit<SitePlan['week'], 'holds'> {
  const used = kinds.flatMap((kind, hour) => (isOfUse(kind) ? [hour] : []));
  const told = (course: readonly number[]): WeekTold => {
    const { recall, falsePerHour, photosOfNothing } = ofHours(used, kinds, course, teller, goal);
    return { recall, falsePerHour, photosOfNothing };
  };
  return {
    one: { ...told(kinds.map(() => week.one)), ...dials(week.one) },
    changing: {
      ...told(week.course),
      first: dials(week.course[0]!),
      changes: week.walks.map((hour) => ({ at: rfc3339(hours[hour]!.at), ...dials(week.course[hour]!) })),
    },
    walks: week.walks.length,
    gain: week.gain,
    worthIt: week.worthIt,
  };
}
