import { plural } from '../../base/figures.js';
import type { ReadingOptions } from '../../measure/evidence.js';
import type { Cure, SettingsOut } from '../diagnosis.js';
import { fileOf } from '../missed/nearest-grid.js';
import type { ReplayedClip } from '../replayed-clip.js';
import type { ChangeMaps } from './change-maps.js';
import { effectNow, type Labelled, measureTurns, proofOf } from './dials.js';
import { halvesOf } from './halves.js';
import { maskCures } from './masks.js';
import { byWorth, FEWEST_FALSE, isProved, type Proof } from './proof.js';

export interface Cures {
  /** Best first. */
  cures: Cure[];
  /** What a reader should know besides: why none is offered, or what was not tried. */
  notes: string[];
}

/** Nobody reads more than these. */
const MOST_CURES = 8;

/**
 * Changes to the settings that keep a camera from firing falsely, each measured by replay on all the labelled footage;
 * found on one half of it, and offered only if it holds on the other.
 *
 * @param maps for each case what changed in it, null where that is not known
 */
export async function findCures(
  cases: readonly ReplayedClip[],
  maps: readonly (ChangeMaps | null)[],
  options: ReadingOptions,
): Promise<Cures> {
  const halves = halvesOf(cases);
  const labelled = cases.flatMap((replayed, c) => {
    const halved = halves[c];
    return halved ? [{ replayed, halved, maps: maps[c] ?? null }] : [];
  });
  const first = labelled[0]?.replayed;
  if (!first)
    return none('Without labels nobody knows which triggers were false, so no cure can be measured.');
  const now = await effectsNow(labelled);
  if (now.whole.falseTriggers === 0) return none('There are no false triggers to cure.');
  const [finding, proving] = [now.finding.falseTriggers, now.proving.falseTriggers];
  if (finding === 0 || proving < FEWEST_FALSE) {
    return none(
      `Too little to tell: a cure is found on one half of the footage and must hold on the other, and the halves have ${finding} and ${plural(proving, 'false trigger')}; ${FEWEST_FALSE} are needed to prove it. More footage helps.`,
    );
  }
  const notes: string[] = [];
  const turns = (await measureTurns(labelled, options))
    .filter(({ proof }) => isProved(proof))
    .map(({ turn, proof }) =>
      cureOf(turn.kind, fileOf(turn.settings, first.settings.mask), turn.turn, proof),
    );
  const masks: Cure[] = [];
  if (!first.evidence) {
    notes.push(
      `Masks were not tried: the reference of ${first.camera.name} depends on its triggers, so each would take a reading of its own.`,
    );
  } else {
    const mapped = labelled.flatMap(({ maps, ...clip }) => (maps ? [{ ...clip, maps }] : []));
    const places = byPlace(mapped);
    for (const clips of places) {
      for (const { polygons, proof } of await maskCures(clips)) {
        const cure = cureOf('mask', fileOf(first.settings, polygons), null, proof);
        masks.push(
          clips.length < labelled.length
            ? { ...cure, clips: clips.map(({ replayed }) => replayed.clip.dir) }
            : cure,
        );
      }
    }
  }
  const cures = [...masks, ...turns].sort((a, b) => byWorth(wholeOf(a), wholeOf(b))).slice(0, MOST_CURES);
  if (cures.length > 0 && now.proving.caught === 0) {
    notes.push(
      'No visit was caught on the half of the footage that the cures were proved on, so whether they would lose any is known from the other half only.',
    );
  }
  if (cures.length === 0) {
    notes.push(
      'No mask and no single turn of a dial removed enough false triggers on both halves of the footage.',
    );
  }
  return { cures, notes };
}

function none(note: string): Cures {
  return { cures: [], notes: [note] };
}

function cureOf(kind: Cure['kind'], settings: SettingsOut, turn: Cure['turn'], proof: Proof): Cure {
  const { whole, proving } = proof;
  return {
    kind,
    settings,
    turn,
    falseRemoved: whole.falseRemoved,
    visitsLost: whole.visitsLost,
    visitsGained: whole.visitsGained,
    of: { falseTriggers: whole.falseTriggers, caught: whole.caught },
    proof: {
      falseRemoved: proving.falseRemoved,
      falseTriggers: proving.falseTriggers,
      visitsLost: proving.visitsLost,
      caught: proving.caught,
    },
  };
}

function wholeOf({ falseRemoved, visitsLost, visitsGained, of }: Cure) {
  return { falseRemoved, visitsLost, visitsGained, ...of };
}

/** False triggers and caught visits as they are now. */
async function effectsNow(clips: readonly Labelled[]): Promise<Proof> {
  const now = await Promise.all(clips.map(({ replayed }) => effectNow(replayed)));
  return proofOf(clips, now, now);
}

/** Clips of one site each: a mask belongs to what a camera sees from its place. Clips that name no site share one. */
function byPlace<C extends Labelled>(clips: readonly C[]): C[][] {
  const places = new Map<string, C[]>();
  for (const clip of clips) {
    const site = clip.replayed.clip.manifest.site ?? '';
    const place = places.get(site);
    if (place) place.push(clip);
    else places.set(site, [clip]);
  }
  return [...places.values()];
}
