import { inClipJson } from '../../base/about-clip.js';
import { clock, plural } from '../../base/figures.js';
import type { LabelledClip } from '../../clip/labelled.js';
import type { Clip } from '../../clip/open.js';
import type { Evidence } from '../../plan/evidence.js';
import {
  type Darkness,
  type Kind,
  keyOfKind,
  kindOf,
  kindText,
  lightOf,
  weatherFor,
} from '../../plan/kind.js';
import type { Condition } from '../../weather/conditions.js';
import type { Conditions } from '../../weather/setup.js';
import type { OpenPorts } from '../ports.js';
import { type SimulationOptions, sweepSimulated } from '../tune/simulate.js';
import { blocksOf } from '../tune/sweep-clip.js';
import type { SweptClip } from '../tune/sweep-site.js';
import type { SiteOptions } from './options.js';

export interface EvidenceFound {
  evidence: Evidence[];
  assumed: string[];
  defaults: string[];
  notes: string[];
}

/**
 * What tells of each kind of hours: clips recorded in it; else such weather put onto the calmest clip. Where that is stormier or
 * darker than the hours are, nothing tells of them, for weather cannot be taken off.
 * @param kinds of all hours of use, as often as they come
 * @param source the clip that weather may be put onto; undefined for none
 * @param swayFrom a windier clip of the same site, whose sway is measured beside that of the source; undefined for none
 */
export async function evidenceFor(
  kinds: readonly Kind[],
  recorded: readonly SweptClip[],
  source: LabelledClip | undefined,
  swayFrom: Clip | undefined,
  darkness: Darkness,
  options: SiteOptions,
  ports: OpenPorts,
): Promise<EvidenceFound> {
  const base = recorded.find(({ clip }) => clip === source?.dir);
  const evidence: Evidence[] = [];
  const simulated: KindSimulated[] = [];
  const notRecorded: string[] = [];
  for (const kind of new Map(kinds.map((one) => [keyOfKind(one), one])).values()) {
    const alike = recorded.filter((clip) => keyOfKind(ownKind(clip, darkness)) === keyOfKind(kind));
    if (alike.length > 0) {
      evidence.push(recordedEvidence(kind, alike));
      continue;
    }
    const to = source && weatherFor(kind, base?.recordedIn ?? {}, darkness);
    if (to === null) notRecorded.push(kindText(kind));
    if (!source || !to) continue;
    ports.signal?.throwIfAborted();
    ports.onPhase(`${source.dir}: putting ${kindText(kind)} onto it`);
    const one = await simulateKind(kind, to, source, base, options, { ...ports, swayFrom });
    simulated.push(one);
    if (one.evidence) evidence.push(one.evidence);
  }
  const isPartOfAll = ({ sample }: KindSimulated) =>
    recorded.length > 1 || sample.end - sample.start < source!.seconds;
  const notes = [
    ...unknownNote(recorded),
    ...simulated.filter(({ motionless }) => motionless).map(({ kind }) => motionlessNote(source!, kind)),
    ...notRecordedNote(notRecorded),
    ...simulated.filter((one) => one.evidence && isPartOfAll(one)).map((one) => sampleNote(source!, one)),
  ];
  return {
    evidence,
    assumed: [...new Set(simulated.flatMap(({ assumed }) => assumed))],
    defaults: [...new Set(simulated.flatMap(({ defaults }) => defaults))],
    notes: [...new Set(notes)],
  };
}

function recordedEvidence(kind: Kind, clips: readonly SweptClip[]): Evidence {
  return {
    kind,
    source: clips.every(({ simulated }) => simulated) ? 'simulated' : 'recorded',
    clips: clips.map(({ clip }) => clip),
    parts: clips,
  };
}

/** A kind of hours put onto a clip. */
interface KindSimulated
  extends Pick<Simulation, 'assumed' | 'defaults' | 'motionless' | 'sample' | 'visits'> {
  kind: Kind;
  /** Null: nothing came of it, for nothing could move. */
  evidence: Evidence | null;
}

type Simulation = Awaited<ReturnType<typeof sweepSimulated>>;

/** @param base the clip as it was recorded, swept; undefined where that does not count */
async function simulateKind(
  kind: Kind,
  to: Conditions,
  source: LabelledClip,
  base: SweptClip | undefined,
  { camera, grid, seed }: SiteOptions,
  ports: OpenPorts & SimulationOptions,
): Promise<KindSimulated> {
  const wanted = [{ condition: mainOf(kind), to, strength: strongestOf(to) }];
  const blocks = blocksOf(source, camera);
  const simulation = await sweepSimulated(source, camera, grid, wanted, seed, ports, undefined, blocks);
  const { sweeps, assumed, defaults, motionless, sample, visits } = simulation;
  const [first] = sweeps;
  const evidence: Evidence | null = first
    ? {
        kind,
        source: 'simulated',
        clips: [source.dir],
        parts: sweeps.map(({ counts }) => ({ whole: counts, blocks: [] })),
        sample: { clip: source.dir, ...sample, visits },
        off: first.off ?? null,
        ...(base && { onto: { clip: base, blocks: first.pieces ?? [] } }),
      }
    : null;
  return { kind, evidence, assumed, defaults, motionless, sample, visits };
}

function unknownNote(recorded: readonly SweptClip[]): string[] {
  const unknown = recorded.filter(({ recordedIn }) => recordedIn === null).map(({ clip }) => clip);
  if (unknown.length === 0) return [];
  return [
    `${unknown.join(', ')}: nothing is known of the weather it was recorded in, so it is taken as calm; say it ${inClipJson('conditions')}`,
  ];
}

function motionlessNote({ dir }: LabelledClip, kind: Kind): string {
  return `No wind was put onto ${dir}, because no foliage is known there that it could move; so ${kindText(kind)} cannot be told: outline it (labels.json: foliage), or record a clip in wind.`;
}

function notRecordedNote(kinds: readonly string[]): string[] {
  if (kinds.length === 0) return [];
  return [
    `Nobody recorded ${kinds.join('; ')} here, and weather cannot be taken off a clip, so nothing is told of such hours: record a clip then.`,
  ];
}

function sampleNote({ dir }: LabelledClip, { sample, visits }: KindSimulated): string {
  return `Simulated figures are of ${dir} from ${clock(sample.start)} to ${clock(sample.end)} alone, with ${plural(visits, 'visit')}, and recorded ones of whole clips: where simulated weather seems better than recorded, the footage may be why.`;
}

function ownKind({ recordedIn }: SweptClip, darkness: Darkness): Kind {
  const { wind = 0, rain = 0, light } = recordedIn ?? {};
  return kindOf(wind, rain, lightOf(light ?? null, darkness));
}

/** What wind moves is looked for first: where nothing can move, nothing is told. */
function mainOf({ wind, rain }: Kind): Condition {
  if (wind > 0) return 'wind';
  return rain > 0 ? 'rain' : 'low light';
}

function strongestOf({ wind, rain, light }: Conditions): number {
  return wind ?? rain ?? light ?? 0;
}
