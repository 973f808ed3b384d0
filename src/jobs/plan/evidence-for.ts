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
import { sweepSimulated } from '../tune/simulate.js';
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
  { camera, grid, seed }: SiteOptions,
  ports: OpenPorts,
): Promise<EvidenceFound> {
  const found = { evidence: [] as Evidence[], assumed: new Set<string>(), defaults: new Set<string>() };
  const stretches = new Set<string>();
  const notes: string[] = [];
  const unknown = recorded.filter(({ recordedIn }) => recordedIn === null).map(({ clip }) => clip);
  if (unknown.length > 0) {
    notes.push(
      `${unknown.join(', ')}: nothing is known of the weather it was recorded in, so it is taken as calm; say it ${inClipJson('conditions')}`,
    );
  }
  const tellsOf = (kind: Kind, clips: readonly SweptClip[]): Evidence => ({
    kind,
    source: clips.every(({ simulated }) => simulated) ? 'simulated' : 'recorded',
    clips: clips.map(({ clip }) => clip),
    parts: clips,
  });
  const notRecorded: string[] = [];
  const base = recorded.find(({ clip }) => clip === source?.dir);
  for (const kind of new Map(kinds.map((one) => [keyOfKind(one), one])).values()) {
    const alike = recorded.filter((clip) => keyOfKind(ownKind(clip, darkness)) === keyOfKind(kind));
    if (alike.length > 0) {
      found.evidence.push(tellsOf(kind, alike));
      continue;
    }
    const own = base?.recordedIn ?? {};
    const to = source && weatherFor(kind, own, darkness);
    if (to === null) {
      notRecorded.push(kindText(kind));
      continue;
    }
    if (!source || !to) continue;
    ports.signal?.throwIfAborted();
    ports.onPhase(`${source.dir}: putting ${kindText(kind)} onto it`);
    const { sweeps, assumed, defaults, motionless, sample, visits } = await sweepSimulated(
      source,
      camera,
      grid,
      [{ condition: mainOf(kind), to, strength: strongestOf(to) }],
      seed,
      { ...ports, swayFrom },
      undefined,
      blocksOf(source, camera),
    );
    for (const line of assumed) found.assumed.add(line);
    for (const line of defaults) found.defaults.add(line);
    if (motionless) {
      notes.push(
        `No wind was put onto ${source.dir}, because no foliage is known there that it could move; so ${kindText(kind)} cannot be told: outline it (on the page under "Mask and foliage", or in labels.json: foliage), or record a clip in wind.`,
      );
    }
    if (sweeps.length === 0) continue;
    if (recorded.length > 1 || sample.end - sample.start < source.seconds) {
      stretches.add(
        `Simulated figures are of ${source.dir} from ${clock(sample.start)} to ${clock(sample.end)} alone, with ${plural(visits, 'visit')}, and recorded ones of whole clips: where simulated weather seems better than recorded, the footage may be why.`,
      );
    }
    found.evidence.push({
      kind,
      source: 'simulated',
      clips: [source.dir],
      parts: sweeps.map(({ counts }) => ({ whole: counts, blocks: [] })),
      sample: { clip: source.dir, ...sample, visits },
      off: sweeps[0]!.off ?? null,
      ...(base && { onto: { clip: base, blocks: sweeps[0]!.pieces ?? [] } }),
    });
  }
  if (notRecorded.length > 0) {
    notes.push(
      `Nobody recorded ${notRecorded.join('; ')} here, and weather cannot be taken off a clip, so nothing is told of such hours: record a clip then.`,
    );
  }
  return {
    evidence: found.evidence,
    assumed: [...found.assumed],
    defaults: [...found.defaults],
    notes: [...new Set([...notes, ...stretches])],
  };
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
